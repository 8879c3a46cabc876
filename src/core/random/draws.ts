import type { Random } from './xoshiro128.ts'

const bits26 = 2 ** 26
const bits53 = 2 ** 53

/** A number in [0, 1), each multiple of 2^-53 equally likely. Two words are used. */
export function unit(random: Random): number {
  const high = random.word() >>> 5
  const low = random.word() >>> 6
  return (high * bits26 + low) / bits53
}

/** A number evenly spread over [low, high). Faults: RangeError unless both are finite and low <= high. */
export function uniform(random: Random, low: number, high: number): number {
  if (!(low <= high && Number.isFinite(high - low))) throw new RangeError(`no numbers from ${low} to ${high}`)
  const value = low + (high - low) * unit(random)
  return value < high ? value : low
}

/**
 * A whole number from 0 to `count - 1`, each exactly equally likely: words past the last full multiple of `count` are
 * drawn again (fewer than two draws on average). Faults: RangeError unless `count` is a whole number from 1 to 2^32.
 */
export function wholeBelow(random: Random, count: number): number {
  if (!Number.isInteger(count) || count < 1 || count > 2 ** 32)
    throw new RangeError(`no whole number below ${count}`)
  const limit = 2 ** 32 - (2 ** 32 % count)
  for (;;) {
    const word = random.word()
    if (word < limit) return word % count
  }
}

/**
 * A number from the normal distribution of mean 0 and standard deviation 1.
 *
 * Method  the polar method: a point drawn evenly in the unit disc, accepted in 1.27 tries on average.
 * Source  Marsaglia and Bray 1964, "A convenient method for generating normal variables", SIAM Review 6.
 */
export function normal(random: Random): number {
  for (;;) {
    const x = 2 * unit(random) - 1
    const y = 2 * unit(random) - 1
    const s = x * x + y * y
    if (s > 0 && s < 1) return x * Math.sqrt((-2 * Math.log(s)) / s)
  }
}

/**
 * A whole number from the Poisson distribution.
 *
 * Method  events one exponential waiting time apart are counted until the time `mean` has passed; exact, with no
 *         underflow at large means. Cost: about `mean + 1` logarithms.
 * Faults  RangeError unless the mean is finite and not negative.
 */
export function poisson(random: Random, mean: number): number {
  if (!(mean >= 0 && Number.isFinite(mean)))
    throw new RangeError(`a Poisson mean is finite and not negative, got ${mean}`)
  let count = -1
  for (let time = 0; time <= mean; count++) time -= Math.log(1 - unit(random))
  return count
}
