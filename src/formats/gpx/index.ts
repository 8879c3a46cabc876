export { type GpxOptions, readGpx } from './read-gpx.ts'
