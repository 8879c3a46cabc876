import { availableParallelism } from 'node:os'
import {
  type LineCandidate,
  type LineSettings,
  linesInParts,
  type PitCandidate,
  pitsInParts,
  type RingCandidate,
  type RingSettings,
  ringsInParts,
} from '#core/marks'
import { inWorker, type WorkOptions } from './in-worker.ts'
import type { FoundMarks, MarksInput } from './marks-thread.ts'

const mostThreads = 4

/**
 * Looks for rings in threads, on a file of blocks (`blockLevels`). The raster is never held whole.
 *
 * Cost    see docs/methods/marks.md; some 250 MB a thread, whatever the size of the raster.
 * Faults  RangeError for a range of diameters that cannot be looked for; SurveyError('cancelled').
 */
export function ringsInThreads(
  input: MarksInput<RingSettings>,
  options: WorkOptions = {},
): Promise<FoundMarks<RingCandidate>> {
  const lengths = ringsInParts.planned(input.settings).map(ringsInParts.groundLength)
  return inThreads(new URL('./rings-worker.ts', import.meta.url), input, lengths, options)
}

/**
 * Looks for pits in threads, as `ringsInThreads` does for rings.
 *
 * Cost    see docs/methods/marks.md; some 200 MB a thread, whatever the size of the raster.
 * Faults  RangeError for a range of diameters that cannot be looked for; SurveyError('cancelled').
 */
export function pitsInThreads(
  input: MarksInput<RingSettings>,
  options: WorkOptions = {},
): Promise<FoundMarks<PitCandidate>> {
  const lengths = pitsInParts.planned(input.settings).map(pitsInParts.groundLength)
  return inThreads(new URL('./pits-worker.ts', import.meta.url), input, lengths, options)
}

/**
 * Looks for lines and enclosures in threads, as `ringsInThreads` does for rings.
 *
 * Cost    see docs/methods/marks.md; some 300 MB a thread, and some 14 bytes for each pixel of the raster and tone in the one that joins.
 * Faults  RangeError for widths or lengths that cannot be looked for; SurveyError('cancelled').
 */
export function linesInThreads(
  input: MarksInput<LineSettings>,
  options: WorkOptions = {},
): Promise<FoundMarks<LineCandidate>> {
  const lengths = linesInParts.planned(input.settings).map(linesInParts.groundLength)
  return inThreads(new URL('./lines-worker.ts', import.meta.url), input, lengths, options)
}

/** Starts the first of the threads, which starts the others. `groundLengths` are of the planned searches. */
async function inThreads<Settings, Candidate>(
  script: URL,
  input: MarksInput<Settings>,
  groundLengths: readonly number[],
  options: WorkOptions,
): Promise<FoundMarks<Candidate>> {
  const threads = Math.max(1, Math.min(mostThreads, availableParallelism()))
  const counts = new Int32Array(new SharedArrayBuffer(3 * Int32Array.BYTES_PER_ELEMENT))
  const states = new Int32Array(new SharedArrayBuffer(groundLengths.length * Int32Array.BYTES_PER_ELEMENT))
  const grounds = groundLengths.map(
    (length) => new Float64Array(new SharedArrayBuffer(length * Float64Array.BYTES_PER_ELEMENT)),
  )
  return inWorker<FoundMarks<Candidate>>(script, { ...input, threads, counts, states, grounds }, options)
}
