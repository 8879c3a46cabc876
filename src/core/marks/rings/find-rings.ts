import type { Raster, RingCandidate, RingSettings } from '../candidate.ts'
import { levelsOf, sizeAt } from '../ground/levels.ts'
import { usualLimit, type WindowLimit } from '../ground/window-parts.ts'
import { doRingJob, joinRingJobs, ringJobs } from './ring-jobs.ts'
import { deepestLevel } from './ring-plan.ts'
import { type MeasuredRing, ringSearches, ringsInWindow } from './ring-search.ts'

/**
 * Looks for rings on a raster held in memory, in this thread. `limit` is the size of the pieces that it is done in; it does not change what is found.
 *
 * Units   pixels, from the outer corner of the upper left one.
 * Method  docs/methods/marks.md
 * Limits  a ring whose centre lies outside the raster is not found. The score was trained on synthetic scenes.
 * Cost    see docs/methods/marks.md; 90 bytes for each pixel of a piece. In threads, and from a file: src/work.
 * Gives   nothing where the raster is flat or has no data; `ringSearches` tells that beforehand.
 */
export function findRings(
  raster: Raster,
  settings: RingSettings,
  limit: WindowLimit = usualLimit,
): RingCandidate[] {
  const source = levelsOf(raster, deepestLevel(settings))
  const searches = ringSearches(source, settings)
  const jobs = ringJobs(source, searches, limit)
  return joinRingJobs(
    jobs.map((job) => doRingJob(source, searches[job.search]!, job)),
    settings,
  )
}

/** Everything that may be a ring, with what its score is worked out from; several of one ring among them. For training. */
export function measuredRings(raster: Raster, settings: RingSettings): MeasuredRing[] {
  const source = levelsOf(raster, deepestLevel(settings))
  return ringSearches(source, settings).flatMap((search) =>
    ringsInWindow(source, search, { left: 0, top: 0, ...sizeAt(source, search.plan.level) }),
  )
}
