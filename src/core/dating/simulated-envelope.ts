import { type Random, unit, wholeBelow } from '#core/random'
import type { Dated } from './aoristic.ts'
import { sliceOf, type TimeSlices } from './time-slices.ts'

export interface SimulatedEnvelope {
  /** Bounds a slice between which the middle `level` of the simulations lies, slice by slice. */
  readonly low: Float64Array
  readonly high: Float64Array
  readonly mean: Float64Array
  readonly simulations: number
  readonly level: number
}

export interface EnvelopeOptions {
  readonly simulations: number
  /** Share of simulations within the bounds of one slice, such as 0.95. */
  readonly level: number
  readonly random: Random
}

/**
 * How far the counts could differ if each find were of one year: every simulation keeps each find with its chance, draws
 * a year evenly from its span and counts its pieces there, all in the same year. The mean tends to the aoristic sum; the
 * bounds are pointwise (slice by slice, not for the curve as a whole) and say nothing of finds that were not made.
 *
 * Source  Crema, Bevan and Lake 2010, "A probabilistic framework for assessing spatio-temporal point patterns in the
 *         archaeological record", Journal of Archaeological Science 37; quantiles of type 1 (Hyndman and Fan 1996).
 * Cost    finds x simulations draws, and 8 bytes for each slice of each simulation.
 * Faults  RangeError for fewer than 20 simulations or a level outside 0 to 1.
 */
export function simulatedEnvelope(
  finds: Dated,
  slices: TimeSlices,
  { simulations, level, random }: EnvelopeOptions,
): SimulatedEnvelope {
  if (!Number.isInteger(simulations) || simulations < 20) {
    throw new RangeError(`an envelope takes 20 simulations or more, got ${simulations}`)
  }
  if (!(level > 0 && level < 1)) throw new RangeError(`a level lies between 0 and 1, got ${level}`)
  const count = slices.edges.length - 1
  const counts = Array.from({ length: count }, () => new Float64Array(simulations))
  for (let s = 0; s < simulations; s++) {
    for (let k = 0; k < finds.from.length; k++) {
      const chance = finds.chance[k]!
      if (chance < 1 && unit(random) >= chance) continue
      const years = finds.to[k]! - finds.from[k]! + 1
      const slice = sliceOf(slices, finds.from[k]! + (years === 1 ? 0 : wholeBelow(random, years)))
      if (slice >= 0 && slice < count) counts[slice]![s]! += finds.pieces[k]!
    }
  }
  const tail = (1 - level) / 2
  const at = (sorted: Float64Array, share: number): number =>
    sorted[Math.ceil(share * simulations) - 1] ?? sorted[0]!
  const low = new Float64Array(count)
  const high = new Float64Array(count)
  const mean = new Float64Array(count)
  counts.forEach((slice, i) => {
    mean[i] = slice.reduce((sum, value) => sum + value, 0) / simulations
    slice.sort()
    low[i] = at(slice, tail)
    high[i] = at(slice, 1 - tail)
  })
  return { low, high, mean, simulations, level }
}
