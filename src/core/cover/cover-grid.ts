import { SurveyError } from '#core/faults'
import type { PlanarArea } from '#core/geometry'
import type { GridFrame } from '#core/raster'
import type { PlanarTrack } from '#core/track'
import { type CoverOptions, type CoverPlan, prepareCover } from './cover-plan.ts'
import { sweepTile } from './sweep-tile.ts'

/** The value of a cell outside the search area. */
export const outsideArea = 255

/** Share done, 0 to 1, and what is being done. */
export type CoverProgress = (done: number, label: string) => void

/** What the cells of some tiles add up to. */
export interface CoverTally {
  /** Cells inside the area. */
  readonly areaCells: number
  /** Of these, cells with one pass or more. */
  readonly coveredCells: number
  /** Sum of passes over the cells of the area. */
  readonly passSum: number
  readonly passMax: number
}

/** Passes over each cell of a search area. Row 0 is the northernmost; cell (row, column) is `row * columns + column`. */
export interface CoverGrid extends GridFrame, CoverTally {
  /** 0 to 254 passes (254: that many or more); `outsideArea` (255) outside the area. */
  readonly passes: Uint8Array
}

/**
 * Works out the tiles from `tileFrom` up to `tileTo` of a plan and writes their rows, and no others, into `passes`, which
 * has `rows * columns` cells and may stand on shared memory: threads given different tiles do not meet, and the outcome
 * does not depend on how the tiles were shared out.
 *
 * Cost    the legs that reach a tile are swept once for that tile; working memory is none.
 * Faults  SurveyError('cancelled') when `stop` says so between tiles; RangeError for tiles that the plan has not.
 */
export function coverTiles(
  plan: CoverPlan,
  tileFrom: number,
  tileTo: number,
  passes: Uint8Array,
  progress?: CoverProgress,
  stop?: () => boolean,
): CoverTally {
  if (!(tileFrom >= 0 && tileFrom <= tileTo && tileTo <= plan.tiles))
    throw new RangeError(`no tiles ${tileFrom} to ${tileTo} among ${plan.tiles}`)
  if (passes.length !== plan.rows * plan.columns)
    throw new RangeError(`the plan has ${plan.rows * plan.columns} cells, not ${passes.length}`)
  let tally: CoverTally = { areaCells: 0, coveredCells: 0, passSum: 0, passMax: 0 }
  for (let tile = tileFrom; tile < tileTo; tile++) {
    if (stop?.()) throw new SurveyError('cancelled', 'The cover was cancelled; nothing was changed.')
    progress?.((tile - tileFrom) / (tileTo - tileFrom), 'working out the ground covered')
    const rowFrom = tile * plan.tileRows
    const rowTo = Math.min(plan.rows, rowFrom + plan.tileRows)
    layOutArea(plan, rowFrom, rowTo, passes)
    sweepTile(plan, rowFrom, rowTo, passes)
    tally = joinTallies(tally, tallyRows(plan, rowFrom, rowTo, passes))
  }
  progress?.(1, 'working out the ground covered')
  return tally
}

/** What the cells of several sets of tiles add up to. */
export function joinTallies(a: CoverTally, b: CoverTally): CoverTally {
  return {
    areaCells: a.areaCells + b.areaCells,
    coveredCells: a.coveredCells + b.coveredCells,
    passSum: a.passSum + b.passSum,
    passMax: Math.max(a.passMax, b.passMax),
  }
}

/** The grid of a plan whose tiles have all been worked out into `passes`. */
export function gridOf(plan: CoverPlan, passes: Uint8Array, tally: CoverTally): CoverGrid {
  const { epsg, west, north, cellM, columns, rows } = plan
  return { epsg, west, north, cellM, columns, rows, passes, ...tally }
}

/**
 * The cover of a search area by walked tracks: for each cell, how many passes the swath made over its centre.
 *
 * Swath   all points within half of `widthM` of a swept leg (round caps and joins), and of a fix that stands alone.
 * Cells   aligned to whole multiples of `cellM`; a cell counts by its centre (lattice.ts says where that is).
 * Passes  contiguous times in which the swath touches the cell (docs/methods/cover.md); each track on its own.
 * CRS     tracks and area in one planar grid, metres.
 * Cost    one byte a cell of the area's bounds and 25 bytes a fix; about 0.4 s for a million fixes over 59 ha at 0.1 m.
 * Source  docs/methods/cover.md
 * Faults  those of `prepareCover`; SurveyError('cancelled').
 */
export function coverGrid(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: CoverOptions,
  progress?: CoverProgress,
  stop?: () => boolean,
): CoverGrid {
  const plan = prepareCover(tracks, area, options)
  const passes = new Uint8Array(plan.rows * plan.columns)
  return gridOf(plan, passes, coverTiles(plan, 0, plan.tiles, passes, progress, stop))
}

function layOutArea({ columns, area }: CoverPlan, rowFrom: number, rowTo: number, passes: Uint8Array): void {
  passes.fill(outsideArea, rowFrom * columns, rowTo * columns)
  for (let r = rowFrom; r < rowTo; r++) {
    for (let s = area.start[r]!; s < area.start[r + 1]!; s++)
      passes.fill(0, r * columns + area.spans[2 * s]!, r * columns + area.spans[2 * s + 1]!)
  }
}

function tallyRows(
  { columns, area }: CoverPlan,
  rowFrom: number,
  rowTo: number,
  passes: Uint8Array,
): CoverTally {
  let areaCells = 0
  let missed = 0
  let passSum = 0
  let passMax = 0
  for (let r = rowFrom; r < rowTo; r++) {
    for (let s = area.start[r]!; s < area.start[r + 1]!; s++) {
      const end = r * columns + area.spans[2 * s + 1]!
      const begin = r * columns + area.spans[2 * s]!
      areaCells += end - begin
      for (let p = begin; p < end; p++) {
        const value = passes[p]!
        passSum += value
        if (value === 0) missed++
        if (value > passMax) passMax = value
      }
    }
  }
  return { areaCells, coveredCells: areaCells - missed, passSum, passMax }
}
