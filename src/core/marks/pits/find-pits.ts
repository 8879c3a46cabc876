import type { Raster, RingSettings } from '../candidate.ts'
import { levelsOf } from '../ground/levels.ts'
import { usualLimit, type WindowLimit } from '../ground/window-parts.ts'
import { leastSpreadAt } from './pit-ground.ts'
import { doPitJob, joinPitJobs, type PitCandidate, pitJobs } from './pit-jobs.ts'
import { pitSearches } from './pit-plan.ts'

/**
 * Looks for pits (round blobs) on a raster held in memory, best first. Places are pixels from the outer corner of the upper left one. `limit` is the size of
 * the pieces that it is done in; it does not change what is found.
 *
 * Method  docs/methods/marks.md; false alarms are counted on surrogates of the image's own ground, as for rings.
 * Limits  a blob nearer to the edge than about its own diameter is not found.
 * Cost    see docs/methods/marks.md; some 50 bytes for each pixel of a piece. In threads, and from a file: src/work.
 * Faults  RangeError for a range that is empty or begins below 3 pixels.
 */
export function findPits(
  raster: Raster,
  settings: RingSettings,
  limit: WindowLimit = usualLimit,
): PitCandidate[] {
  const searches = pitSearches(settings)
  if (raster.values.length === 0) return []
  const source = levelsOf(raster, searches.at(-1)!.level)
  const spreads = searches.map(({ level }) => leastSpreadAt(source, level))
  const jobs = pitJobs(source, searches, limit)
  return joinPitJobs(
    jobs.map((job) => doPitJob(source, searches[job.search]!, spreads[job.search]!, job)),
    settings,
  )
}
