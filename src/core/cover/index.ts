export { type AreaRows, areaRows } from './area-rows.ts'
export {
  type ChanceOptions,
  type ChancePlan,
  chanceTiles,
  prepareChance,
} from './chance-plan.ts'
export { chanceAt } from './chance-table.ts'
export {
  type ChosenCell,
  cellSteps,
  chooseCell,
  comfortableCells,
  finestCellM,
  mostCells,
} from './choose-cell.ts'
export {
  type ChanceShares,
  type CoverChance,
  chanceGaps,
  chanceOf,
  combineChances,
  coverChance,
  type VisitChance,
} from './cover-chance.ts'
export { type CoverFigures, type CoverOutcome, coverFigures } from './cover-figures.ts'
export {
  type CoverGrid,
  type CoverProgress,
  type CoverTally,
  coverGrid,
  coverTiles,
  gridOf,
  joinTallies,
  outsideArea,
} from './cover-grid.ts'
export { type CoverOptions, type CoverPlan, prepareCover } from './cover-plan.ts'
export { type Gap, type GapOptions, gapPolygons } from './gap-polygons.ts'
export { groundAlong } from './ground-along.ts'
export type { PlacedFixes } from './place-fixes.ts'
export {
  type CoverSpread,
  coverSpread,
  prepareSpread,
  type SpreadOptions,
  type SpreadPlan,
  simulateShares,
  spreadOf,
} from './simulate-cover.ts'
export { mostPasses } from './sweep-tile.ts'
export { type ThinTolerance, type ThinWalk, thinWalk } from './thin-walk.ts'
export { meanZigzagShare, zigzagShare } from './zigzag.ts'
