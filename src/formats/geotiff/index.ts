export { type ByteRaster, type PlainRaster, writeGeoTiff } from './write-geotiff.ts'
