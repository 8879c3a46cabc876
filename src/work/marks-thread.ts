import { closeSync, openSync } from 'node:fs'
import { setTimeout } from 'node:timers/promises'
import type { Progress } from '#contract'
import type { SearchInParts } from '#core/marks'
import { blockLevelsSource } from './block-levels-source.ts'
import { inWorker } from './in-worker.ts'
import { serve } from './worker-side.ts'

export interface MarksInput<Settings> {
  /** A file of blocks, NaN for no data. */
  readonly blocks: string
  readonly columns: number
  readonly rows: number
  readonly settings: Settings
}

/** What threads share besides. */
interface Shared {
  /** Threads that share the pieces, this one among them; 0 for one of those others. */
  readonly threads: number
  /** Shared: by `nextJob`, `jobsDone` and `nextGround`. */
  readonly counts: Int32Array
  /** Shared: of each planned search, 0 until its ground is measured, then 1, or 2 where there is none. */
  readonly states: Int32Array
  /** Shared: the grounds measured. */
  readonly grounds: readonly Float64Array[]
}

export interface FoundMarks<Candidate> {
  /** Best first. */
  readonly candidates: readonly Candidate[]
  /** True where the raster is flat or without data, so that there is nothing to look for. */
  readonly flat: boolean
}

/** Places in the shared counts: the next piece that nobody has taken, how many are done, the next ground that nobody measures. */
const [nextJob, jobsDone, nextGround] = [0, 1, 2]

/** Share of the work that measuring the ground takes, about. */
const measuring = 0.15

/**
 * Called once by the worker script of a kind, whose address is `script`: looks for its marks together with further threads of the same script. Grounds
 * are measured by whichever thread is free, and then the pieces are done; a piece waits for the ground of its own search only.
 */
export async function serveSearch<
  Settings,
  Search,
  Ground,
  Job extends { readonly search: number },
  Result,
  Candidate,
>(
  script: string,
  parts: SearchInParts<Settings, Search, Ground, Job, Result, Candidate>,
  label: string,
): Promise<void> {
  type Outcome = FoundMarks<Candidate> & { readonly results: readonly Result[] }

  async function find(input: MarksInput<Settings> & Shared, progress: Progress): Promise<Outcome> {
    const { blocks, columns, rows, settings, threads, counts, states, grounds } = input
    const others = Array.from({ length: Math.max(0, threads - 1) }, () =>
      inWorker<Outcome>(new URL(script), { ...input, threads: 0 }, {}),
    )
    const elsewhere = Promise.all(others)
    // Asked for at the end, or while a ground is waited for; until then nobody listens.
    elsewhere.catch(() => undefined)
    const fd = openSync(blocks, 'r')
    try {
      progress(0, 'measuring the ground')
      const source = blockLevelsSource(fd, columns, rows)
      const searches = parts.planned(settings)
      const count = searches.length
      for (let i = Atomics.add(counts, nextGround, 1); i < count; i = Atomics.add(counts, nextGround, 1)) {
        const ground = parts.groundOf(source, searches[i]!)
        if (ground !== null) parts.writeGround(ground, grounds[i]!)
        Atomics.store(states, i, ground === null ? 2 : 1)
      }
      const jobs = parts.jobs(source, searches)
      const results: Result[] = []
      for (let i = Atomics.add(counts, nextJob, 1); i < jobs.length; i = Atomics.add(counts, nextJob, 1)) {
        const job = jobs[i]!
        if (await isMeasured(states, job.search, elsewhere)) {
          const ground = parts.readGround(grounds[job.search]!)
          results.push(parts.done(source, searches[job.search]!, ground, job))
        }
        const share = (Atomics.add(counts, jobsDone, 1) + 1) / jobs.length
        progress(measuring + (1 - measuring) * share, label)
      }
      if (threads === 0) return { candidates: [], flat: false, results }
      const all = [...results, ...(await elsewhere).flatMap((other) => other.results)]
      const flat = states.every((state) => state === 2)
      return { candidates: parts.joined(all, settings), flat, results: [] }
    } finally {
      closeSync(fd)
    }
  }

  await serve(find)
}

/** True once a thread has measured the ground of a search, false where there is none. Rejects if another thread ends early. */
async function isMeasured(states: Int32Array, search: number, elsewhere: Promise<unknown>): Promise<boolean> {
  const broken = elsewhere.then(() => new Promise<never>(() => undefined))
  broken.catch(() => undefined)
  while (Atomics.load(states, search) === 0) await Promise.race([setTimeout(2), broken])
  return Atomics.load(states, search) === 1
}
