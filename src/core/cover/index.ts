export type { AreaRows } from './area-rows.ts'
export { chanceAt } from './chance-table.ts'
export {
  type ChosenCell,
  cellSteps,
  chooseCell,
  comfortableCells,
  finestCellM,
  mostCells,
} from './choose-cell.ts'
export { type ChanceOptions, type CoverChance, coverChance } from './cover-chance.ts'
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
export type { PlacedFixes } from './place-fixes.ts'
export { mostPasses } from './sweep-tile.ts'
export { meanZigzagShare, zigzagShare } from './zigzag.ts'
