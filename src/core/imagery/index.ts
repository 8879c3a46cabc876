export { applyView, type PaintedTile } from './apply-view.ts'
export { type Bands, type BandValues, bandsFromInterleaved } from './bands.ts'
export { fitAffine } from './fit-affine.ts'
export { fitProjective } from './fit-projective.ts'
export {
  type BandColours,
  type ImageView,
  type ImageViewName,
  imageViewsFor,
  usualColours,
} from './image-view.ts'
export { lumaWeights } from './luminance.ts'
export { type GroundLines, groundAt, type Placement, pictureAt, placementFromLines } from './placement.ts'
export { type OverviewScale, type PreparedView, prepareView } from './prepare-view.ts'
export type { FittedPlacement, TiePoint } from './tie-points.ts'
export type { TilePlace } from './tile-place.ts'
export { greenRedIndex, normalisedDifferenceIndex, visibleAtmosphericIndex } from './vegetation-index.ts'
export { type PixelValue, pixelValues } from './view-values.ts'
