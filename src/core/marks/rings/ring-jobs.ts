import type { RingCandidate, RingSettings } from '../candidate.ts'
import { falseAlarmCurve } from '../ground/false-alarms.ts'
import { type LevelSource, sizeAt } from '../ground/levels.ts'
import { evenWindows, usualLimit, type WindowLimit } from '../ground/window-parts.ts'
import { type PartJob, partJobs } from '../search-in-parts.ts'
import { ringCandidates } from './ring-candidates.ts'
import { type MeasuredRing, type PlannedSearch, type RingSearch, ringsInWindow } from './ring-search.ts'
import { ringsOnSurrogates, type SurrogateRings, surrogateCount } from './ring-surrogates.ts'

export type RingJobResult =
  | { readonly search: number; readonly rings: readonly MeasuredRing[] }
  | { readonly search: number; readonly bare: SurrogateRings }

/** An image is done in two parts at least, for two threads, unless they would be smaller than this. */
const leastRows = 256

/** Everything to be done for the searches of an image; surrogates in pairs. However it is parted, the same rings come of it. */
export function ringJobs(
  source: Pick<LevelSource, 'columns' | 'rows'>,
  searches: readonly PlannedSearch[],
  limit: WindowLimit = usualLimit,
): PartJob[] {
  return searches.flatMap((search, i) => {
    const size = sizeAt(source, search.plan.level)
    const tallest = Math.min(limit.rows, Math.max(leastRows, Math.ceil(size.rows / 2)))
    return partJobs(i, evenWindows(size, { columns: limit.columns, rows: tallest }), surrogateCount(search))
  })
}

/** Does a job of the search that it names. */
export function doRingJob(source: LevelSource, search: RingSearch, job: PartJob): RingJobResult {
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
