export { type GeoJsonOptions, readGeoJson } from './read-geojson.ts'
export { writeGeoJson } from './write-geojson.ts'
