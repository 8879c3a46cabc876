export { type PlacedRaster, type PlainRaster, type RasterSystem, writeGeoTiff } from './write-geotiff.ts'
