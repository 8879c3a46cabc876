import { type FalseAlarmCurve, falseAlarmCurve } from '../ground/false-alarms.ts'
import { type LevelSource, type LevelWindow, sizeAt } from '../ground/levels.ts'
import { evenWindows, usualLimit, type WindowLimit } from '../ground/window-parts.ts'
import { type PartJob, partJobs } from '../search-in-parts.ts'
import { distinctLines } from './distinct-lines.ts'
import type { LineCandidate, LineSettings } from './line-candidate.ts'
import { lineCandidates } from './line-candidates.ts'
import { tracedChains } from './line-chains.ts'
import { tracedNoise } from './line-evidence.ts'
import type { LinePoints } from './line-points.ts'
import {
  type BarePoints,
  type LineSearch,
  lineSearches,
  lineSurrogateCount,
  pointsInWindow,
  pointsOnSurrogate,
  type TonePoints,
} from './line-search.ts'
import { type MeasuredLine, measuredLines } from './measured-line.ts'

export type LineJobResult =
  | { readonly search: number; readonly window: LevelWindow; readonly found: readonly TonePoints[] }
  | { readonly search: number; readonly surrogate: number; readonly bare: BarePoints }

/** Everything to be done for the searches of an image. However it is parted, the same lines come of it. */
export function lineJobs(
  source: Pick<LevelSource, 'columns' | 'rows'>,
  searches: readonly LineSearch[],
  limit: WindowLimit = usualLimit,
): PartJob[] {
  return searches.flatMap((search, i) =>
    partJobs(i, evenWindows(sizeAt(source, search.level), limit), lineSurrogateCount(source, search)),
  )
}

/** Does a job of a search. */
export function doLineJob(
  source: LevelSource,
  search: LineSearch,
  leastSpread: number,
  job: PartJob,
): LineJobResult {
  return 'window' in job
    ? { ...job, found: pointsInWindow(source, search, leastSpread, job.window) }
    : { ...job, bare: pointsOnSurrogate(source, search, leastSpread, job.surrogate) }
}

/** Candidates of all jobs, in whatever order they were done. Cost: 36 bytes for each point, of which one pixel in twenty has one. */
export function joinLineJobs(results: readonly LineJobResult[], settings: LineSettings): LineCandidate[] {
  const lines: MeasuredLine[] = []
  const curves: FalseAlarmCurve[] = []
  lineSearches(settings).forEach((search, i) => {
    if (!results.some((each) => each.search === i)) return
    const bare = results
      .flatMap((each) => ('bare' in each && each.search === i ? [each] : []))
      .sort((a, b) => a.surrogate - b.surrogate)
    const noise = tracedNoise(bare.flatMap(({ bare }) => bare.found))
    const linesOf = (found: BarePoints['found']): MeasuredLine[] =>
      distinctLines(
        found.flatMap((traced) =>
          measuredLines(traced, { level: search.level, tone: traced.tone, noise }, settings),
        ),
      )
    const alarms = bare.flatMap(({ bare }) => linesOf(bare.found))
    const area = bare.reduce((sum, { bare }) => sum + bare.area, 0)
    curves.push(
      falseAlarmCurve(
        alarms.map(({ logOdds }) => logOdds),
        area,
      ),
    )
    const found = search.tones.map((tone) => {
      const points = allPoints(results, i, tone)
      return { tone, points, chains: tracedChains(points) }
    })
    lines.push(...linesOf(found))
  })
  return lineCandidates(lines, curves, settings)
}

/** Points of all windows of a search, the windows in the order of rows and columns. */
function allPoints(results: readonly LineJobResult[], search: number, tone: TonePoints['tone']): LinePoints {
  const parts = results
    .flatMap((each) => ('window' in each && each.search === search ? [each] : []))
    .sort((a, b) => a.window.top - b.window.top || a.window.left - b.window.left)
    .flatMap(({ found }) => found.flatMap((each) => (each.tone === tone ? [each.points] : [])))
  const all = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}
