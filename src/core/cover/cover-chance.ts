import { SurveyError } from '#core/faults'
import type { PlanarArea } from '#core/geometry'
import type { GridFrame } from '#core/raster'
import type { PlanarTrack } from '#core/track'
import {
  type ChanceOptions,
  type ChancePlan,
  type ChanceTally,
  chanceTiles,
  prepareChance,
  tallyChances,
} from './chance-plan.ts'
import { type CoverGrid, type CoverProgress, outsideArea } from './cover-grid.ts'
import { type Gap, type GapOptions, gapPolygons } from './gap-polygons.ts'
import { readChances } from './read-chances.ts'

/** Shares of the search area, 0 to 1. */
export interface ChanceShares {
  /** Mean chance over the area. */
  readonly expectedShare: number
  /** Shares with a chance of 50, 80 and 95 % or more. */
  readonly share50: number
  readonly share80: number
  readonly share95: number
}

/** The chance that each spot was sensed, and what it comes to over the search area. Row 0 is the northernmost. */
export interface CoverChance extends GridFrame, ChanceShares {
  /** 0 to 1 for each cell; NaN outside the area. */
  readonly chance: Float32Array
  /** How it was made and what was assumed, one sentence each. */
  readonly notes: readonly string[]
}

/**
 * The cover as chances: how likely it is that each spot was inside the swath, and sensed, given that recorded positions are
 * wrong by a normal error to the side.
 *
 * Method  for each pass the greatest chance over its legs (chance-table.ts), passes combined as 1 - product(1 - p)
 *         (docs/methods/cover.md). Chances reach out to four standard deviations beyond the swath.
 * Cells   those of the cover; coarser where there would be more than 60 million. Where they are finer than a third of the error the
 *         chances are worked out at nodes that far apart, and read between them.
 * Cost    per leg, after joining, the cells within reach of it, some 5 ns each: see docs/methods/cover.md#speed.
 * Source  docs/methods/cover.md#chances
 * Faults  those of `prepareCover`; SurveyError('setting-out-of-range', 'cancelled').
 */
export function coverChance(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: ChanceOptions,
  progress?: CoverProgress,
  stop?: () => boolean,
): CoverChance {
  const prepared = prepareChance(tracks, area, options)
  const { plan } = prepared.nodes
  const worked = new Float32Array(plan.rows * plan.columns)
  chanceTiles(prepared, 0, plan.tiles, worked, progress, stop)
  return chanceOf(prepared, worked)
}

/** The cover of a plan whose tiles have all been worked out into `worked`, a number for each node. */
export function chanceOf(prepared: ChancePlan, worked: Float32Array): CoverChance {
  const { epsg, west, north, cellM, columns, rows } = prepared.cells
  const chance = readChances(prepared, worked)
  const shares = sharesOf(tallyChances(chance))
  return { epsg, west, north, cellM, columns, rows, chance, ...shares, notes: prepared.notes }
}

function sharesOf({ cells, sum, over50, over80, over95 }: ChanceTally): ChanceShares {
  return {
    expectedShare: sum / cells,
    share50: over50 / cells,
    share80: over80 / cells,
    share95: over95 / cells,
  }
}

/** The chances of one visit, on the same cells as those of the others. */
export type VisitChance = GridFrame & { readonly chance: Float32Array }

/**
 * The chance that each spot was sensed in at least one of several visits, whose errors are independent: 1 - product(1 - p).
 * Faults: RangeError for no visit, or for frames that differ.
 */
export function combineChances(visits: readonly VisitChance[]): VisitChance & ChanceShares {
  const [first] = visits
  if (first === undefined) throw new RangeError('no visit to combine')
  const { epsg, west, north, cellM, columns, rows } = first
  const chance = first.chance.slice()
  for (const visit of visits.slice(1)) {
    const sameFrame =
      visit.epsg === epsg && visit.west === west && visit.north === north && visit.cellM === cellM
    if (!sameFrame || visit.columns !== columns || visit.rows !== rows)
      throw new RangeError('the visits lie on different cells')
    for (let p = 0; p < chance.length; p++) chance[p] = 1 - (1 - chance[p]!) * (1 - visit.chance[p]!)
  }
  return { epsg, west, north, cellM, columns, rows, chance, ...sharesOf(tallyChances(chance)) }
}

/**
 * The ground that was sensed with less than a chosen chance, as polygons, largest first: as `gapPolygons` finds them.
 * Faults: SurveyError('setting-out-of-range') unless the level lies above 0 and at most 1; those of `gapPolygons`.
 */
export function chanceGaps(
  { chance, ...frame }: VisitChance,
  level: number,
  options: GapOptions,
): readonly Gap[] {
  if (!(level > 0 && level <= 1))
    throw new SurveyError(
      'setting-out-of-range',
      `The chance of a gap must be above 0 and at most 1, not ${level}.`,
    )
  const passes = new Uint8Array(chance.length)
  const tally = { areaCells: 0, coveredCells: 0, passSum: 0, passMax: 1 }
  for (let p = 0; p < chance.length; p++) {
    const value = chance[p]!
    passes[p] = Number.isNaN(value) ? outsideArea : value >= level ? 1 : 0
    if (!Number.isNaN(value)) tally.areaCells++
    if (value >= level) tally.coveredCells++
  }
  const { epsg, west, north, cellM, columns, rows } = frame
  const grid: CoverGrid = {
    epsg,
    west,
    north,
    cellM,
    columns,
    rows,
    passes,
    ...tally,
    passSum: tally.coveredCells,
  }
  return gapPolygons(grid, options)
}
