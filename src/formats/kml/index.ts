export { type KmlOptions, readKml } from './read-kml.ts'
export { readKmz } from './read-kmz.ts'
