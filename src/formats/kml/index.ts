export { type KmlOptions, readKml } from './read-kml.ts'
export { readKmz } from './read-kmz.ts'
export { type KmlTitle, writeKml } from './write-kml.ts'
