export { type GeoJsonOptions, readGeoJson } from './read-geojson.ts'
