import { closeSync, ftruncateSync, openSync } from 'node:fs'
import type { Progress } from '#contract'
import { type MeasuredView, measuredRows, reachOf, type Terrain } from '#core/relief'
import { inWorker } from './in-worker.ts'
import { blockLevels, blockSide, readBlocks, writeBlockRow, writeUpperLevels } from './pyramid-blocks.ts'
import { serve } from './worker-side.ts'

export interface MeasureInput {
  /** Files of blocks: heights to read, measures to write. */
  readonly heights: string
  readonly out: string
  readonly columns: number
  readonly rows: number
  /** Metres. */
  readonly cellX: number
  readonly cellY: number
  readonly view: MeasuredView
  readonly label: string
  /** Threads that share the rows of blocks, this one among them; 0 for one of those others, which takes rows and writes no levels above. */
  readonly threads: number
  /** Shared: the next row of blocks that nobody has taken, and how many are done. */
  readonly counts: Int32Array
}

/** Share of the work that the finest level takes, about. */
const measuring = 0.9

await serve<MeasureInput, null>(measure)

async function measure(input: MeasureInput, progress: Progress): Promise<null> {
  const { levels, bytes } = blockLevels(input.columns, input.rows)
  if (input.threads > 0) {
    const made = openSync(input.out, 'w')
    ftruncateSync(made, bytes)
    closeSync(made)
  }
  const others = Array.from({ length: Math.min(input.threads, levels[0]!.down) - 1 }, () =>
    inWorker<null>(new URL(import.meta.url), { ...input, threads: 0 }, {}),
  )
  const [heights, out] = [openSync(input.heights, 'r'), openSync(input.out, 'r+')]
  try {
    takeRows(input, heights, out, progress)
    await Promise.all(others)
    if (input.threads > 0) {
      writeUpperLevels(
        out,
        levels,
        (done) => progress(measuring + done * (1 - measuring), input.label),
        input.label,
      )
    }
  } finally {
    closeSync(heights)
    closeSync(out)
  }
  return null
}

/** Takes rows of blocks until none is left. Memory: 256 rows and what the view looks beyond them, a few times. */
function takeRows(input: MeasureInput, heights: number, out: number, progress: Progress): void {
  const { columns, rows, cellX, cellY, view, counts, label } = input
  const finest = blockLevels(columns, rows).levels[0]!
  const reach = reachOf({ columns, rows, cellX, cellY, values: new Float32Array(0) }, view).rows
  for (let down = Atomics.add(counts, 0, 1); down < finest.down; down = Atomics.add(counts, 0, 1)) {
    const from = down * blockSide
    const to = Math.min(rows, from + blockSide)
    const top = Math.max(0, from - reach)
    const height = Math.min(rows, to + reach) - top
    const values = readBlocks(heights, finest, { left: 0, top, width: columns, height })
    const part: Terrain = { columns, rows: height, cellX, cellY, values }
    const measures = new Float32Array(values.length)
    measuredRows(part, view, measures, from - top, to - top)
    writeBlockRow(out, finest, down, measures.subarray((from - top) * columns, (to - top) * columns))
    const done = Atomics.add(counts, 1, 1) + 1
    progress((measuring * done) / finest.down, label)
  }
}
