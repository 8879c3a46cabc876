import type { Raster } from '../candidate.ts'
import { levelsOf } from '../ground/levels.ts'
import { usualLimit, type WindowLimit } from '../ground/window-parts.ts'
import type { LineCandidate, LineSettings } from './line-candidate.ts'
import { doLineJob, joinLineJobs, lineJobs } from './line-jobs.ts'
import { linePlan } from './line-plan.ts'
import { lineGround, lineSearches } from './line-search.ts'

/**
 * Looks for lines (ditches, banks, trackways) and enclosures on a raster held in memory, in this thread. `limit` is the size of the pieces that it is done in; it
 * does not change what is found.
 *
 * Units   pixels, from the outer corner of the upper left one.
 * Method  docs/methods/marks.md
 * Faults  RangeError for widths or lengths that cannot be looked for.
 * Cost    see docs/methods/marks.md; 60 bytes for each pixel of a piece. In threads, and from a file: src/work.
 * Gives   nothing where the raster is flat or has no data.
 */
export function findLines(
  raster: Raster,
  settings: LineSettings,
  limit: WindowLimit = usualLimit,
): LineCandidate[] {
  const source = levelsOf(raster, Math.max(...linePlan(settings)))
  const searches = lineSearches(settings)
  const grounds = searches.map((search) => lineGround(source, search))
  const results = lineJobs(source, searches, limit).flatMap((job) => {
    const ground = grounds[job.search]!
    return ground === null ? [] : [doLineJob(source, searches[job.search]!, ground, job)]
  })
  return joinLineJobs(results, settings)
}
