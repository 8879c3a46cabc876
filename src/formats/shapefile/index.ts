export { readShapefile, type ShapefileOptions } from './read-shapefile.ts'
