export { readWalkPack } from './read-walk-pack.ts'
export type { PackManifest, PackPicture, WalkPack } from './walk-pack.ts'
export { writeWalkPack } from './write-walk-pack.ts'
