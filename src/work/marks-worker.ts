import { closeSync, openSync } from 'node:fs'
import type { Progress } from '#contract'
import {
  doRingJob,
  joinRingJobs,
  type RingCandidate,
  type RingJobResult,
  type RingSettings,
  ringJobs,
  ringSearches,
} from '#core/marks'
import { blockLevelsSource } from './block-levels-source.ts'
import { inWorker } from './in-worker.ts'
import { serve } from './worker-side.ts'

export interface MarksInput {
  /** A file of blocks, NaN for no data. */
  readonly blocks: string
  readonly columns: number
  readonly rows: number
  readonly settings: RingSettings
  /** Threads that share the pieces, this one among them; 0 for one of those others. */
  readonly threads: number
  /** Shared: the next piece that nobody has taken, and how many are done. */
  readonly counts: Int32Array
}

export interface FoundRings {
  /** Best first. */
  readonly candidates: readonly RingCandidate[]
  /** True where the raster is flat or without data, so that there is nothing to look for. */
  readonly flat: boolean
}

type Outcome = FoundRings & { readonly results: readonly RingJobResult[] }

/** Share of the work that measuring the ground takes, about. */
const measuring = 0.15
const label = 'looking for rings'

await serve<MarksInput, Outcome>(findMarks)

/** Every thread measures the ground for itself: it comes to the same, and takes less time than being told. */
async function findMarks(input: MarksInput, progress: Progress): Promise<Outcome> {
  const { blocks, columns, rows, settings, threads, counts } = input
  const others = Array.from({ length: Math.max(0, threads - 1) }, () =>
    inWorker<Outcome>(new URL(import.meta.url), { ...input, threads: 0 }, {}),
  )
  const fd = openSync(blocks, 'r')
  try {
    progress(0, 'measuring the ground')
    const source = blockLevelsSource(fd, columns, rows)
    const searches = ringSearches(source, settings)
    const jobs = ringJobs(source, searches)
    const results: RingJobResult[] = []
    for (let i = Atomics.add(counts, 0, 1); i < jobs.length; i = Atomics.add(counts, 0, 1)) {
      results.push(doRingJob(source, searches, jobs[i]!))
      progress(measuring + ((1 - measuring) * (Atomics.add(counts, 1, 1) + 1)) / jobs.length, label)
    }
    if (threads === 0) return { candidates: [], flat: false, results }
    const elsewhere = (await Promise.all(others)).flatMap((other) => other.results)
    const candidates = joinRingJobs([...results, ...elsewhere], settings)
    return { candidates, flat: searches.length === 0, results: [] }
  } finally {
    closeSync(fd)
  }
}
