export { airy1830, airyModified1849, type Ellipsoid, grs80, wgs84 } from './ellipsoid.ts'
export { gridFor } from './grid-for.ts'
export { formatGridRef, formatIrishGridRef, parseGridRef, parseIrishGridRef } from './grid-reference.ts'
export { formatMgrs, type MgrsSquare, parseMgrs } from './mgrs.ts'
export { fromNationalGrid, toNationalGrid } from './national-grid.ts'
export { isPlanarGrid, type PlanarGrid, planarGrid, projectPoint, unprojectPoint } from './planar-grid.ts'
export { decodeShiftGrid, encodeShiftGrid, type ShiftGrid } from './shift-grid.ts'
export { type GridSquare, squareCentre, squareSize } from './square-figures.ts'
export {
  projectTransverseMercator,
  type TransverseMercator,
  type TransverseMercatorParameters,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'
export { utmCentralMeridian, utmEpsg, utmZone } from './utm-zone.ts'
