/**
 * Round values that divide a range: steps of 1, 2 or 5 times a power of ten, about `wanted` of them. All lie within the range.
 * Faults: RangeError unless `max` is above `min` and both are finite.
 */
export function roundTicks(min: number, max: number, wanted = 5): number[] {
  if (!(max > min) || !Number.isFinite(max - min)) throw new RangeError(`no range from ${min} to ${max}`)
  const step = roundStep((max - min) / Math.max(1, wanted))
  const first = Math.ceil(min / step - 1e-9)
  const last = Math.floor(max / step + 1e-9)
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step)
}

/** The nearest of 1, 2, 5 times a power of ten that is not below `least`. */
export function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least))
  const lead = least / power
  return (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10) * power
}

/** The largest of 1, 2, 5 times a power of ten that is not above `most`: the length of a scale bar. */
export function roundBelow(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most))
  const lead = most / power
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power
}
