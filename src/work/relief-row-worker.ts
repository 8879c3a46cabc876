import { parentPort } from 'node:worker_threads'
import { greyRows, isGreyView, measuredRows, type ReliefView, type Terrain } from '#core/relief'

/** One view of one terrain for several threads. Heights, results and counts stand on shared memory. */
export interface ReliefTask {
  readonly terrain: Terrain
  readonly view: ReliefView
  readonly out: Uint8Array | Float32Array
  /** Rows taken at a time. */
  readonly band: number
  /** The next band that nobody has taken, and how many are done. */
  readonly counts: Int32Array
}

/** What a thread answers when no band is left for it: null, or why it stopped. */
export type ReliefAnswer = { readonly fault: string | null }

function takeBands({ terrain, view, out, band, counts }: ReliefTask): void {
  const bands = Math.ceil(terrain.rows / band)
  for (let k = Atomics.add(counts, 0, 1); k < bands; k = Atomics.add(counts, 0, 1)) {
    const [from, to] = [k * band, Math.min(terrain.rows, (k + 1) * band)]
    if (isGreyView(view)) greyRows(terrain, view, out as Uint8Array, from, to)
    else measuredRows(terrain, view, out as Float32Array, from, to)
    Atomics.add(counts, 1, 1)
  }
}

parentPort?.on('message', (task: ReliefTask) => {
  let fault: string | null = null
  try {
    takeBands(task)
  } catch (error) {
    fault = error instanceof Error ? error.message : String(error)
  }
  parentPort?.postMessage({ fault } satisfies ReliefAnswer)
})
