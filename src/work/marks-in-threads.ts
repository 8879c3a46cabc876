import { availableParallelism } from 'node:os'
import { groundLength, plannedSearches } from '#core/marks'
import { inWorker, type WorkOptions } from './in-worker.ts'
import type { FoundLines, LinesInput } from './lines-worker.ts'
import type { FoundRings, MarksInput } from './marks-worker.ts'
import type { FoundPits, PitsInput } from './pits-worker.ts'

const mostThreads = 4
const threadCount = (): number => Math.max(1, Math.min(mostThreads, availableParallelism()))

/**
 * Looks for rings in threads, on a file of blocks (`blockLevels`). The raster is never held whole.
 *
 * Cost    see docs/methods/marks.md; some 250 MB a thread, whatever the size of the raster.
 * Faults  RangeError for a range of diameters that cannot be looked for; SurveyError('cancelled').
 */
export async function ringsInThreads(
  input: Omit<MarksInput, 'threads' | 'counts' | 'states' | 'grounds'>,
  options: WorkOptions = {},
): Promise<FoundRings> {
  const threads = threadCount()
  const counts = new Int32Array(new SharedArrayBuffer(12))
  const planned = plannedSearches(input.settings)
  const states = new Int32Array(new SharedArrayBuffer(4 * planned.length))
  const grounds = planned.map(
    (each) => new Float64Array(new SharedArrayBuffer(Float64Array.BYTES_PER_ELEMENT * groundLength(each))),
  )
  return inWorker<FoundRings>(
    new URL('./marks-worker.ts', import.meta.url),
    { ...input, threads, counts, states, grounds },
    options,
  )
}

/**
 * Looks for lines and enclosures in threads, on a file of blocks (`blockLevels`). The raster is never held whole.
 *
 * Cost    see docs/methods/marks.md; some 300 MB a thread, and 2 bytes for each pixel of the raster.
 * Faults  RangeError for widths or lengths that cannot be looked for; SurveyError('cancelled').
 */
export function linesInThreads(
  input: Omit<LinesInput, 'threads' | 'counts'>,
  options: WorkOptions = {},
): Promise<FoundLines> {
  const counts = new Int32Array(new SharedArrayBuffer(8))
  return inWorker<FoundLines>(
    new URL('./lines-worker.ts', import.meta.url),
    { ...input, threads: threadCount(), counts },
    options,
  )
}

/**
 * Looks for pits in one thread. The raster is held whole there: reckoned at some 150 bytes a pixel.
 * Faults: RangeError for a range of diameters that cannot be looked for; SurveyError('cancelled').
 */
export function pitsInThread(input: PitsInput, options: WorkOptions = {}): Promise<FoundPits> {
  return inWorker<FoundPits>(new URL('./pits-worker.ts', import.meta.url), input, options)
}
