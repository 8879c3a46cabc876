import type { RingGround } from './ring-ground.ts'
import { type RingKernel, tableSteps } from './ring-kernels.ts'
import type { PlannedSearch } from './ring-search.ts'
import { widths } from './ring-sectors.ts'

/** Three tables, radius, middle, and the noise of an arc at each width. */
const perRadius = 3 * tableSteps + 2 + widths.length

/** How many numbers tell the ground of a search to another thread. */
export function groundLength({ plan }: PlannedSearch): number {
  return 2 + plan.radii.length * perRadius
}

/** Writes a ground where other threads may read it. All numbers are exact: what is read is what was written. */
export function writeGround(
  { leastSpread, ridgeUnit, kernels, middles, arcNoise }: RingGround,
  out: Float64Array,
): void {
  out[0] = leastSpread
  out[1] = ridgeUnit
  kernels.forEach(({ radius, even, aligned, matched }, i) => {
    const at = 2 + i * perRadius
    out[at] = radius
    out[at + 1] = middles[i]!
    out.set(even, at + 2)
    out.set(aligned, at + 2 + tableSteps)
    out.set(matched, at + 2 + 2 * tableSteps)
    out.set(arcNoise.subarray(i * widths.length, (i + 1) * widths.length), at + 2 + 3 * tableSteps)
  })
}

export function readGround(numbers: Float64Array): RingGround {
  const count = (numbers.length - 2) / perRadius
  const kernels: RingKernel[] = []
  const middles = new Float64Array(count)
  const arcNoise = new Float64Array(count * widths.length)
  for (let i = 0; i < count; i++) {
    const at = 2 + i * perRadius
    const table = (n: number): Float32Array =>
      Float32Array.from(numbers.subarray(at + 2 + n * tableSteps, at + 2 + (n + 1) * tableSteps))
    middles[i] = numbers[at + 1]!
    kernels.push({ radius: numbers[at]!, even: table(0), aligned: table(1), matched: table(2) })
    arcNoise.set(numbers.subarray(at + 2 + 3 * tableSteps, at + perRadius), i * widths.length)
  }
  return { leastSpread: numbers[0]!, ridgeUnit: numbers[1]!, kernels, middles, arcNoise }
}
