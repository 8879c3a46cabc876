export { type Bounds, boundsOf, emptyBounds, joinBounds } from './bounds.ts'
export { type PlanarArea, type Polygon, polygonArea, ringArea } from './polygon.ts'
export { thinLine } from './thin-line.ts'
