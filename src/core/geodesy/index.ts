export { gridBearing, gridConvergence, planarBearing, trueBearing, wholeCircle } from './convergence.ts'
export {
  type Coordinate,
  type CoordinateContext,
  type CoordinateNotation,
  coordinateAt,
} from './coordinate.ts'
export {
  type CoordinateNotations,
  coordinateNotations,
  formatUtm,
  frameNote,
} from './coordinate-notations.ts'
export { airy1830, airyModified1849, type Ellipsoid, grs80, wgs84 } from './ellipsoid.ts'
export { type GeodesicLine, geodesicArea, geodesicLine, geodesicPoint } from './geodesic.ts'
export { gridFor } from './grid-for.ts'
export { type GridPosition, type PlacedPosition, placeInGrid } from './grid-position.ts'
export { formatGridRef, formatIrishGridRef, parseGridRef, parseIrishGridRef } from './grid-reference.ts'
export { fromIrishGrid, toIrishGrid } from './irish-grid.ts'
export { formatAngle, formatLatLon, type LatLonReading, parseLatLon } from './latitude-longitude.ts'
export { formatMgrs, type MgrsSquare, parseMgrs } from './mgrs.ts'
export { fromNationalGrid, toNationalGrid } from './national-grid.ts'
export { type CoordinateReading, parseCoordinate, parseCoordinates } from './parse-coordinate.ts'
export { isPlanarGrid, type PlanarGrid, planarGrid, projectPoint, unprojectPoint } from './planar-grid.ts'
export { decodeShiftGrid, encodeShiftGrid, type ShiftGrid } from './shift-grid.ts'
export { figuresFor, type GridSquare, squareCentre, squareSize } from './square-figures.ts'
export {
  projectTransverseMercator,
  type TransverseMercator,
  type TransverseMercatorParameters,
  transverseMercator,
  unprojectTransverseMercator,
} from './transverse-mercator.ts'
export { utmCentralMeridian, utmEpsg, utmZone } from './utm-zone.ts'
