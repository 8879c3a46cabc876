import { closeSync, openSync } from 'node:fs'
import { setTimeout } from 'node:timers/promises'
import type { Progress } from '#contract'
import {
  doRingJob,
  joinRingJobs,
  type LevelSource,
  type PlannedSearch,
  plannedSearches,
  type RingCandidate,
  type RingJobResult,
  type RingSearch,
  type RingSettings,
  readGround,
  ringJobs,
  searchOn,
  writeGround,
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
  /** Shared: the next piece that nobody has taken, how many are done, and the next ground that nobody measures. */
  readonly counts: Int32Array
  /** Shared: of each planned search, 0 until its ground is measured, then 1, or 2 where there is none. */
  readonly states: Int32Array
  /** Shared: the grounds measured. */
  readonly grounds: readonly Float64Array[]
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

/** Grounds are measured by whichever thread is free, and then the pieces are done; a piece waits for the ground of its own search only. */
async function findMarks(input: MarksInput, progress: Progress): Promise<Outcome> {
  const { blocks, columns, rows, settings, threads, counts, states } = input
  const others = Array.from({ length: Math.max(0, threads - 1) }, () =>
    inWorker<Outcome>(new URL(import.meta.url), { ...input, threads: 0 }, {}),
  )
  const elsewhere = Promise.all(others)
  // Asked for at the end, or while a ground is waited for; until then nobody listens.
  elsewhere.catch(() => undefined)
  const fd = openSync(blocks, 'r')
  try {
    progress(0, 'measuring the ground')
    const source = blockLevelsSource(fd, columns, rows)
    const planned = plannedSearches(settings)
    measureGrounds(source, planned, input)
    const jobs = ringJobs(source, planned)
    const results: RingJobResult[] = []
    for (let i = Atomics.add(counts, 0, 1); i < jobs.length; i = Atomics.add(counts, 0, 1)) {
      const job = jobs[i]!
      const search = await measuredSearch(job.search, planned, input, elsewhere)
      if (search) results.push(doRingJob(source, search, job))
      progress(measuring + ((1 - measuring) * (Atomics.add(counts, 1, 1) + 1)) / jobs.length, label)
    }
    if (threads === 0) return { candidates: [], flat: false, results }
    const all = [...results, ...(await elsewhere).flatMap((other) => other.results)]
    return {
      candidates: joinRingJobs(all, settings),
      flat: states.every((state) => state === 2),
      results: [],
    }
  } finally {
    closeSync(fd)
  }
}

/** Measures the grounds that no other thread has taken. */
function measureGrounds(
  source: LevelSource,
  planned: readonly PlannedSearch[],
  { counts, states, grounds }: MarksInput,
): void {
  for (let i = Atomics.add(counts, 2, 1); i < planned.length; i = Atomics.add(counts, 2, 1)) {
    const search = searchOn(source, planned[i]!)
    if (search) writeGround(search.ground, grounds[i]!)
    Atomics.store(states, i, search ? 1 : 2)
  }
}

/** A search with its ground, once a thread has measured that; null where there is none. Rejects if another thread ends early. */
async function measuredSearch(
  i: number,
  planned: readonly PlannedSearch[],
  { states, grounds }: MarksInput,
  elsewhere: Promise<unknown>,
): Promise<RingSearch | null> {
  const broken = elsewhere.then(() => new Promise<never>(() => undefined))
  broken.catch(() => undefined)
  while (Atomics.load(states, i) === 0) await Promise.race([setTimeout(2), broken])
  return Atomics.load(states, i) === 1 ? { ...planned[i]!, ground: readGround(grounds[i]!) } : null
}
