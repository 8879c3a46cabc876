export { type PlainRaster, writeGeoTiff } from './write-geotiff.ts'
