import type { PartJob, SearchInParts } from '../search-in-parts.ts'
import type { LineCandidate, LineSettings } from './line-candidate.ts'
import { doLineJob, joinLineJobs, type LineJobResult, lineJobs } from './line-jobs.ts'
import { type LineSearch, lineGround, lineSearches } from './line-search.ts'

/** Lines and enclosures, looked for in parts. Their ground is the least spread of its level. */
export const linesInParts: SearchInParts<
  LineSettings,
  LineSearch,
  number,
  PartJob,
  LineJobResult,
  LineCandidate
> = {
  planned: lineSearches,
  groundOf: lineGround,
  groundLength: () => 1,
  writeGround: (leastSpread, out) => out.fill(leastSpread),
  readGround: ([leastSpread = 0]) => leastSpread,
  jobs: lineJobs,
  done: doLineJob,
  joined: joinLineJobs,
}
