import { SurveyError } from '#core/faults'
import { areaBounds, type Bounds, type PlanarArea } from '#core/geometry'
import { type PlanarTrack, sweptLegs, walkAccount } from '#core/track'
import { type ChanceLegs, chanceLegs } from './chance-legs.ts'
import { chanceTable, reachInErrors } from './chance-table.ts'
import { type ChanceSums, chanceTile } from './chance-tile.ts'
import { cellsOver, chooseCell, finestStep } from './choose-cell.ts'
import type { CoverProgress } from './cover-grid.ts'
import { type CoverOptions, type CoverPlan, checkInput, planOf } from './cover-plan.ts'

export interface ChanceOptions extends CoverOptions {
  /** Standard deviation of the recorded position to the side, metres; 0 leaves only the zigzag. */
  readonly errorM: number
  /** Length of ground that the coil senses along the walk, metres, with `rateHz`; null or absent: the whole arc is sensed. */
  readonly coilM?: number | null
  /** Sweeps a second, one sweep being one crossing. */
  readonly rateHz?: number | null
  /** Chance that the instrument tells of an object its coil passes over, and that it is dug; 1 where absent. */
  readonly ownChance?: number
  /** Error of each fix of each track, metres, as `cleanTrack` gives it; a track without takes `errorM`. */
  readonly errorOfFix?: readonly (Float64Array | null)[]
  /** No more cells than this: coarser ones are taken. 60 million where absent, 240 megabytes. */
  readonly mostCells?: number
  /** Every leg at every cell, none joined and nothing read between nodes: slow, for checks. */
  readonly exact?: boolean
}

/**
 * All that chances are worked out from, ready to be shared out by tiles: plain fields over shared memory. Chances are worked out at the
 * nodes of `nodes`, and from there read at the cells of `cells`; where the two are one and the same, the nodes are the cells.
 */
export interface ChancePlan {
  readonly nodes: ChanceSums
  readonly cells: CoverPlan
  /** How it was made and what was assumed, one sentence each. */
  readonly notes: readonly string[]
}

/** What the chances of some tiles add up to. */
export interface ChanceTally {
  readonly cells: number
  readonly sum: number
  /** Cells with a chance of 50, 80 and 95 % or more. */
  readonly over50: number
  readonly over80: number
  readonly over95: number
}

/** Legs are joined where that moves them by less than this share of the error. */
const thinShare = 1 / 15
/** A surface smoothed by the error is worked out at nodes this share of it apart, and read between them. */
const nodeShare = 1 / 3
const mostChanceCells = 60_000_000

/**
 * Places the legs of tracks for chances. Legs on a line are joined first, within a fifteenth of the error, and where cells are finer than a
 * third of the error the chances are worked out at nodes that far apart: docs/methods/cover.md says what that costs in truth.
 *
 * Faults  those of `prepareCover`; SurveyError('setting-out-of-range').
 */
export function prepareChance(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: ChanceOptions,
): ChancePlan {
  checkChance(options)
  checkInput(tracks, area)
  const { widthM, errorOfFix = [], exact = false, mostCells = mostChanceCells } = options
  const bounds = areaBounds(area)
  const cellM = chanceCell(bounds, chooseCell(bounds, options.cellM).cellM, mostCells)
  const swept = tracks.map((track) => sweptLegs(track, options))
  const legs = chanceLegs(tracks, swept, options, exact ? 0 : thinShare, errorOfFix)
  const reachM = widthM / 2 + reachInErrors * Math.max(...legs.classErrorM)
  const walked = {
    tracks: legs.walks.map(({ track }) => track),
    legs: legs.walks,
    walk: walkAccount(tracks, swept, options),
  }
  const reaching = { ...options, widthM: 2 * reachM }
  const cells = planOf(walked, area, { ...reaching, cellM })
  const nodeM = Math.min(...legs.classErrorM) * nodeShare
  const apart = !exact && nodeM > cellM
  const nodes = apart
    ? planOf(walked, groundAbout(bounds, area.epsg, nodeM), { ...reaching, cellM: nodeM })
    : cells
  return {
    cells,
    nodes: chanceSums(nodes, legs, options),
    notes: [...notesOf(options, cellM), ...legs.notes],
  }
}

function chanceSums(
  plan: CoverPlan,
  { classErrorM, errorClass, ratio }: ChanceLegs,
  { widthM, ownChance = 1, exact = false }: ChanceOptions,
): ChanceSums {
  const tables = classErrorM.map((error) => {
    const table = chanceTable(widthM / 2 / plan.cellM, error / plan.cellM, ratio !== null)
    return ownChance === 1 ? table : { ...table, chance: table.chance.map((p) => p * ownChance) }
  })
  return { plan, tables, errorClass, ratio, awayCells: widthM / plan.cellM, exact }
}

/** All ground on which nodes are needed to read the cells of the bounds. */
function groundAbout({ minX, minY, maxX, maxY }: Bounds, epsg: number, nodeM: number): PlanarArea {
  const [west, south, east, north] = [minX - 2 * nodeM, minY - 2 * nodeM, maxX + 2 * nodeM, maxY + 2 * nodeM]
  return {
    epsg,
    polygons: [{ rings: [Float64Array.of(west, south, east, south, east, north, west, north, west, south)] }],
  }
}

/**
 * Works out the tiles from `tileFrom` up to `tileTo` of the nodes and writes their rows, and no others, into `chance`, which has a number
 * for each node: threads given different tiles do not meet. Faults: SurveyError('cancelled') when `stop` says so between tiles.
 */
export function chanceTiles(
  { nodes }: ChancePlan,
  tileFrom: number,
  tileTo: number,
  chance: Float32Array,
  progress?: CoverProgress,
  stop?: () => boolean,
): void {
  const { tileRows, rows } = nodes.plan
  for (let tile = tileFrom; tile < tileTo; tile++) {
    if (stop?.()) throw new SurveyError('cancelled', 'The chances were cancelled; nothing was changed.')
    progress?.((tile - tileFrom) / (tileTo - tileFrom), 'working out chances')
    chanceTile(nodes, tile * tileRows, Math.min(rows, (tile + 1) * tileRows), chance)
  }
  progress?.(1, 'working out chances')
}

/** Adds up chances; NaN is outside the area. */
export function tallyChances(chance: Float32Array): ChanceTally {
  let [cells, sum, over50, over80, over95] = [0, 0, 0, 0, 0]
  for (let p = 0; p < chance.length; p++) {
    const value = chance[p]!
    if (Number.isNaN(value)) continue
    cells++
    sum += value
    if (value >= 0.5) over50++
    if (value >= 0.8) over80++
    if (value >= 0.95) over95++
  }
  return { cells, sum, over50, over80, over95 }
}

function checkChance({ widthM, errorM, coilM = null, rateHz = null, ownChance = 1 }: ChanceOptions): void {
  const refuse = (text: string): never => {
    throw new SurveyError('setting-out-of-range', text)
  }
  const isPositive = (value: number): boolean => value > 0 && Number.isFinite(value)
  if (!isPositive(widthM)) refuse(`The swath must be wider than 0 m, not ${widthM} m.`)
  if (!(errorM >= 0 && Number.isFinite(errorM)))
    refuse(`The position error must be 0 m or more, not ${errorM} m.`)
  if ((coilM === null) !== (rateHz === null))
    refuse('The coil and the rate of sweeps are given together or not at all.')
  if (coilM !== null && !isPositive(coilM)) refuse(`The coil must be longer than 0 m, not ${coilM} m.`)
  if (rateHz !== null && !isPositive(rateHz))
    refuse(`The rate must be above 0 sweeps a second, not ${rateHz}.`)
  if (!(ownChance > 0 && ownChance <= 1))
    refuse(`The chance of the instrument itself must be above 0 and at most 1, not ${ownChance}.`)
}

/** The cell of the cover, or the next coarser step where there would be more cells than can be held. */
function chanceCell(bounds: Bounds, cellM: number, mostCells: number): number {
  if (cellsOver(bounds, cellM) <= mostCells) return cellM
  return finestStep(bounds, mostCells, cellM) ?? cellM
}

function notesOf({ errorM, widthM, ownChance = 1, errorOfFix = [] }: ChanceOptions, cellM: number): string[] {
  const error = errorOfFix.some((errors) => errors !== null)
    ? 'the position error of each fix'
    : `a position error of ${errorM} m to the side`
  const own = ownChance < 1 ? ` and ${(100 * ownChance).toFixed(0)} % for the instrument itself` : ''
  return [
    `Chances for ${error}${own} and a swath of ${widthM} m, on cells of ${cellM} m; ` +
      'the errors of different passes are taken as independent.',
  ]
}
