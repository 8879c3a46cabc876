export type { Geos } from './geos.ts'
export { GroundOverlay } from './ground-overlay.ts'
