export { type PictureKind, pictureKind } from './picture-kind.ts'
export { largestPhotoBytes, type PhotoFacts, readExif } from './read-exif.ts'
