export {
  type Measured,
  measuredArea,
  measuredLength,
  nearnessError,
  type PicturePoint,
  type PictureScale,
  pictureScale,
  type ScaleBar,
} from './picture-scale.ts'
