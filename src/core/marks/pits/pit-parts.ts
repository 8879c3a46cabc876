import type { RingSettings } from '../candidate.ts'
import type { PartJob, SearchInParts } from '../search-in-parts.ts'
import { leastSpreadAt } from './pit-ground.ts'
import { doPitJob, joinPitJobs, type PitCandidate, type PitJobResult, pitJobs } from './pit-jobs.ts'
import { type PitSearch, pitSearches } from './pit-plan.ts'

/** Pits, looked for in parts. Their ground is the least spread of its level. */
export const pitsInParts: SearchInParts<
  RingSettings,
  PitSearch,
  number,
  PartJob,
  PitJobResult,
  PitCandidate
> = {
  planned: pitSearches,
  groundOf: (source, { level }) => leastSpreadAt(source, level) || null,
  groundLength: () => 1,
  writeGround: (leastSpread, out) => out.fill(leastSpread),
  readGround: ([leastSpread = 0]) => leastSpread,
  jobs: pitJobs,
  done: doPitJob,
  joined: joinPitJobs,
}
