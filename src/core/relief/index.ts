export { type BlendScale, blend, blendScale, blendToGrey } from './blend.ts'
export { boxRelief, boxReliefRows, type LocalReliefOptions } from './box-relief.ts'
export { gaussianRelief, gaussianReliefRows } from './gaussian-relief.ts'
export {
  type HillshadeOptions,
  hillshade,
  hillshadeRows,
  type MultiHillshadeOptions,
  multiHillshade,
  multiHillshadeRows,
} from './hillshade.ts'
export type { HorizonOptions } from './horizon.ts'
export { type OpennessOptions, openness, opennessRows } from './openness.ts'
export {
  type GreyView,
  greyRows,
  isGreyView,
  type MeasuredView,
  measuredRows,
  type ReliefView,
  reachOf,
} from './relief-view.ts'
export { skyView, skyViewRows } from './sky-view.ts'
export { type AspectOptions, aspect, aspectRows, type SlopeOptions, slope, slopeRows } from './steepness.ts'
export { percentileStretch, type Stretch, stretchToGrey } from './stretch.ts'
export type { Edges, Reach, Terrain } from './terrain.ts'
