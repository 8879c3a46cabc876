import { closeSync, openSync } from 'node:fs'
import type { Progress } from '#contract'
import {
  doLineJob,
  joinLineJobs,
  type LineCandidate,
  type LineJobResult,
  type LineSettings,
  lineJobs,
  lineSearches,
} from '#core/marks'
import { blockLevelsSource } from './block-levels-source.ts'
import { inWorker } from './in-worker.ts'
import { serve } from './worker-side.ts'

export interface LinesInput {
  /** A file of blocks, NaN for no data. */
  readonly blocks: string
  readonly columns: number
  readonly rows: number
  readonly settings: LineSettings
  /** Threads that share the pieces, this one among them; 0 for one of those others. */
  readonly threads: number
  /** Shared: the next piece that nobody has taken, and how many are done. */
  readonly counts: Int32Array
}

export interface FoundLines {
  /** Best first. */
  readonly candidates: readonly LineCandidate[]
  /** True where the raster is flat or without data, so that there is nothing to look for. */
  readonly flat: boolean
}

type Outcome = FoundLines & { readonly results: readonly LineJobResult[] }

/** Share of the work that the pieces take, about; the rest joins what they found. */
const pieces = 0.85

await serve<LinesInput, Outcome>(findThem)

/** Every thread measures the ground for itself, which is quick and gives the same in each; then each takes the next piece. */
async function findThem(input: LinesInput, progress: Progress): Promise<Outcome> {
  const { blocks, columns, rows, settings, threads, counts } = input
  const elsewhere = Promise.all(
    Array.from({ length: Math.max(0, threads - 1) }, () =>
      inWorker<Outcome>(new URL(import.meta.url), { ...input, threads: 0 }, {}),
    ),
  )
  // Asked for at the end; until then nobody listens.
  elsewhere.catch(() => undefined)
  const fd = openSync(blocks, 'r')
  try {
    progress(0, 'measuring the ground')
    const source = blockLevelsSource(fd, columns, rows)
    const searches = lineSearches(source, settings)
    const jobs = lineJobs(source, searches)
    const results: LineJobResult[] = []
    for (let i = Atomics.add(counts, 0, 1); i < jobs.length; i = Atomics.add(counts, 0, 1)) {
      results.push(doLineJob(source, searches, jobs[i]!))
      progress((pieces * (Atomics.add(counts, 1, 1) + 1)) / jobs.length, 'looking for lines')
    }
    if (threads === 0) return { candidates: [], flat: false, results }
    const all = [...results, ...(await elsewhere).flatMap((other) => other.results)]
    progress(pieces, 'joining lines')
    return { candidates: joinLineJobs(all, searches, settings), flat: searches.length === 0, results: [] }
  } finally {
    closeSync(fd)
  }
}
