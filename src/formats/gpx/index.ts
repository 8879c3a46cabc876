export { type GpxOptions, readGpx } from './read-gpx.ts'
export { type GpxTitle, writeGpx } from './write-gpx.ts'
