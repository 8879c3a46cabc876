import type { RingCandidate, RingSettings } from '../candidate.ts'
import { falseAlarmCurve } from '../ground/false-alarms.ts'
import { type LevelSource, type LevelWindow, sizeAt } from '../ground/levels.ts'
import { ringCandidates } from './ring-candidates.ts'
import { type MeasuredRing, type PlannedSearch, type RingSearch, ringsInWindow } from './ring-search.ts'
import { ringsOnSurrogates, type SurrogateRings, surrogateCount } from './ring-surrogates.ts'

/** A part of the work that any thread can take: a window of a search, or a pair of its surrogates. */
export type RingJob =
  | { readonly search: number; readonly window: LevelWindow }
  | { readonly search: number; readonly surrogate: number }

export type RingJobResult =
  | { readonly search: number; readonly rings: readonly MeasuredRing[] }
  | { readonly search: number; readonly bare: SurrogateRings }

/** Columns and rows of a window at most, without what it needs beyond: two of them are the whole of an image of 2000 x 2000. */
export interface WindowLimit {
  readonly columns: number
  readonly rows: number
}

export const usualLimit: WindowLimit = { columns: 2048, rows: 1024 }

/** An image is done in two parts at least, for two threads, unless they would be smaller than this. */
const leastRows = 256

/** Everything to be done for the searches of an image, the longest first. However it is parted, the same rings come of it. */
export function ringJobs(
  source: Pick<LevelSource, 'columns' | 'rows'>,
  searches: readonly PlannedSearch[],
  limit: WindowLimit = usualLimit,
): RingJob[] {
  return searches.flatMap((search, i): RingJob[] => {
    const { columns, rows } = sizeAt(source, search.plan.level)
    const tallest = Math.min(limit.rows, Math.max(leastRows, Math.ceil(rows / 2)))
    const windows = parts(rows, tallest).flatMap(([top, tall]) =>
      parts(columns, limit.columns).map(([left, wide]) => ({ left, top, columns: wide, rows: tall })),
    )
    return [
      ...windows.map((window) => ({ search: i, window })),
      ...Array.from({ length: surrogateCount(search) }, (_, surrogate) => ({ search: i, surrogate })),
    ]
  })
}

/** Even parts of a length, each at most `most` long: where they start, and how long they are. */
function parts(length: number, most: number): [number, number][] {
  const count = Math.ceil(length / most)
  const start = (i: number): number => Math.floor((i * length) / count)
  return Array.from({ length: count }, (_, i) => [start(i), start(i + 1) - start(i)])
}

/** Does a job of the search that it names. */
export function doRingJob(source: LevelSource, search: RingSearch, job: RingJob): RingJobResult {
  return 'window' in job
    ? { search: job.search, rings: ringsInWindow(source, search, job.window) }
    : { search: job.search, bare: ringsOnSurrogates(source, search, job.surrogate) }
}

/** Candidates of all jobs, in whatever order they were done. */
export function joinRingJobs(results: readonly RingJobResult[], settings: RingSettings): RingCandidate[] {
  const rings = results.flatMap((result) => ('rings' in result ? result.rings : []))
  const searches = new Set(results.map(({ search }) => search))
  const curves = [...searches].map((search) => {
    const bare = results.flatMap((each) => ('bare' in each && each.search === search ? [each.bare] : []))
    return falseAlarmCurve(
      bare.flatMap(({ logOdds }) => logOdds),
      bare.reduce((sum, { area }) => sum + area, 0),
    )
  })
  return ringCandidates(rings, curves, settings)
}
