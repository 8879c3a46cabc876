import type { CoverGrid } from './cover-grid.ts'
import type { CoverPlan } from './cover-plan.ts'
import type { Gap } from './gap-polygons.ts'
import { mostPasses } from './sweep-tile.ts'

/** The account of the ground: what a person is told. Square metres, metres, seconds, shares 0 to 1. */
export interface CoverFigures {
  readonly areaM2: number
  /** `coveredShare * areaM2`. */
  readonly coveredM2: number
  readonly coveredShare: number
  /** Chance-weighted share where a position error was given, else null. */
  readonly expectedShare: number | null
  /** Mean over the whole area, cells never reached counting as 0; max over cells. */
  readonly passes: { readonly mean: number; readonly max: number }
  /**
   * `count` and `largestM2` are of the gaps listed, those of the least area or more. `areaM2` is all ground not reached,
   * however small the piece, so that it and `coveredM2` add up to the area.
   */
  readonly gaps: { readonly count: number; readonly areaM2: number; readonly largestM2: number }
  /** Length of the legs that count as swept, whether inside the area or not. */
  readonly distanceM: number
  /** Time spent on those legs; null where the fixes carry no times. */
  readonly walkingS: number | null
  readonly cellM: number
  /** How the figures were made and what was assumed, one sentence each. */
  readonly notes: readonly string[]
}

/** What `coverFigures` puts into words and numbers. */
export interface CoverOutcome {
  readonly plan: CoverPlan
  readonly grid: CoverGrid
  readonly gaps: readonly Gap[]
  readonly minGapM2: number
  /** From `coverChance`, where a position error was given. */
  readonly chance?: { readonly expectedShare: number; readonly notes: readonly string[] }
}

/** Adds a cover up. The wall time of the sum is the caller's to add. */
export function coverFigures({ plan, grid, gaps, minGapM2, chance }: CoverOutcome): CoverFigures {
  const coveredShare = grid.coveredCells / grid.areaCells
  const missedM2 = (1 - coveredShare) * plan.areaM2
  const listedM2 = gaps.reduce((sum, gap) => sum + gap.areaM2, 0)
  return {
    areaM2: plan.areaM2,
    coveredM2: coveredShare * plan.areaM2,
    coveredShare,
    expectedShare: chance?.expectedShare ?? null,
    passes: { mean: grid.passSum / grid.areaCells, max: grid.passMax },
    gaps: { count: gaps.length, areaM2: missedM2, largestM2: gaps[0]?.areaM2 ?? 0 },
    distanceM: plan.walk.distanceM,
    walkingS: plan.walk.walkingS,
    cellM: grid.cellM,
    notes: [
      ...notesOfGrid(plan, grid),
      ...notesOfGaps(gaps.length, missedM2 - listedM2, minGapM2),
      ...plan.walk.notes,
      ...(chance?.notes ?? []),
    ],
  }
}

function notesOfGrid({ options, areaNotes }: CoverPlan, grid: CoverGrid): string[] {
  const { widthM, cellM } = options
  const notes = [
    `Worked out on cells of ${cellM} m, each counted by its centre, for a swath ${widthM} m wide.`,
  ]
  if (cellM > widthM / 4)
    notes.push(
      `Cells of ${cellM} m are coarse for a swath of ${widthM} m: shares hold, single gaps are only roughly drawn.`,
    )
  if (grid.coveredCells === 0) notes.push('The walked track does not touch the search area.')
  if (grid.passMax >= mostPasses) notes.push(`No more than ${mostPasses} passes are counted over one cell.`)
  return [...notes, ...areaNotes]
}

function notesOfGaps(count: number, smallerM2: number, minGapM2: number): string[] {
  if (!(minGapM2 > 0)) return []
  const listed = count === 1 ? '1 gap' : `${count} gaps`
  const smaller = Math.max(0, smallerM2).toFixed(1)
  return [
    `${listed} of ${minGapM2} m² or more; smaller ones, ${smaller} m² together, count as ground not reached but are not listed.`,
  ]
}
