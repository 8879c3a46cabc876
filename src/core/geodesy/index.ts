export { airy1830, airyModified1849, type Ellipsoid, grs80, wgs84 } from './ellipsoid.ts'
export { gridFor } from './grid-for.ts'
export { formatGridRef, type GridSquare, parseGridRef, squareSize } from './grid-reference.ts'
export { fromNationalGrid, toNationalGrid } from './national-grid.ts'
export { isPlanarGrid, type PlanarGrid, planarGrid, projectPoint, unprojectPoint } from './planar-grid.ts'
export { decodeShiftGrid, encodeShiftGrid, type ShiftGrid } from './shift-grid.ts'
export {
  projectTransverseMercator,
  type TransverseMercator,
  type TransverseMercatorParameters,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'
export { utmCentralMeridian, utmEpsg, utmZone } from './utm-zone.ts'
