import type { RingCandidate, RingSettings } from '../candidate.ts'
import type { PartJob, SearchInParts } from '../search-in-parts.ts'
import type { RingGround } from './ring-ground.ts'
import { doRingJob, joinRingJobs, type RingJobResult, ringJobs } from './ring-jobs.ts'
import { type PlannedSearch, plannedSearches, searchOn } from './ring-search.ts'
import { groundLength, readGround, writeGround } from './shared-ground.ts'

/** Rings, looked for in parts. */
export const ringsInParts: SearchInParts<
  RingSettings,
  PlannedSearch,
  RingGround,
  PartJob,
  RingJobResult,
  RingCandidate
> = {
  planned: plannedSearches,
  groundOf: (source, search) => searchOn(source, search)?.ground ?? null,
  groundLength,
  writeGround,
  readGround,
  jobs: ringJobs,
  done: (source, search, ground, job) => doRingJob(source, { ...search, ground }, job),
  joined: joinRingJobs,
}
