/** One place from several fixes at the same spot. */
export interface AveragedPlace {
  readonly x: number
  readonly y: number
  readonly fixes: number
  /** Standard deviation of the fixes along one axis, metres; null for one fix. */
  readonly spreadM: number | null
  /** Standard deviation of the mean along one axis, metres: averaging takes away the quick part of the error only. */
  readonly errorM: number
}

/**
 * The mean of fixes taken at one spot, with their spread. The slow part of the error, `1 - quickShare` of the variance, is the same for all of
 * them and stays; the quick part is divided by their number. Fixes without a place are left out; null where none has one.
 *
 * Units  metres, interleaved easting and northing; `errorM` is that of one fix along one axis.
 */
export function averagePlace(
  xy: Float64Array,
  { errorM, quickShare }: { readonly errorM: number; readonly quickShare: number },
): AveragedPlace | null {
  const east: number[] = []
  const north: number[] = []
  for (let i = 0; i + 1 < xy.length; i += 2) {
    if (!Number.isFinite(xy[i]!) || !Number.isFinite(xy[i + 1]!)) continue
    east.push(xy[i]!)
    north.push(xy[i + 1]!)
  }
  const fixes = east.length
  if (fixes === 0) return null
  const [x, y] = [meanOf(east), meanOf(north)]
  const squares = east.reduce((sum, value, k) => sum + (value - x) ** 2 + (north[k]! - y) ** 2, 0)
  const spreadM = fixes > 1 ? Math.sqrt(squares / (2 * (fixes - 1))) : null
  return { x, y, fixes, spreadM, errorM: errorOfMean(fixes, spreadM, { errorM, quickShare }) }
}

/** The error of a mean of so many fixes, as `averagePlace` tells it: of one that a receiver averaged itself, whose spread is not known, `spreadM` is null. */
export function errorOfMean(
  fixes: number,
  spreadM: number | null,
  { errorM, quickShare }: { readonly errorM: number; readonly quickShare: number },
): number {
  const quick = Math.max(quickShare * errorM * errorM, (spreadM ?? 0) ** 2)
  return Math.sqrt((1 - quickShare) * errorM * errorM + quick / fixes)
}

/** From the first value, so that eastings of half a million lose no digits. */
function meanOf(values: readonly number[]): number {
  return values[0]! + values.reduce((sum, value) => sum + (value - values[0]!), 0) / values.length
}
