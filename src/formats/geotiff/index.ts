export { type ByteRaster, writeGeoTiff } from './write-geotiff.ts'
