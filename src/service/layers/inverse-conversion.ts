import type { PairConversion } from '#formats/coordinate-system'

/** Most steps of the search; a map projection takes three or four. */
const mostSteps = 20
/** Steps of the pair, as a share of its size, by which the slopes of the conversion are taken. */
const slopeShare = 1e-6
/** Shares of the target's size that count as met: a tenth of a micrometre in degrees, a micrometre in metres. */
const metShare = 1e-14

/**
 * The way back through a conversion that only goes one way, pair after pair, each search beginning where the last one ended. NaN where
 * it does not settle.
 *
 * Method  Newton's in two unknowns, slopes by differences.
 * Cost    some ten conversions of a pair; three for one near the last.
 *
 * @param start a pair in the conversion's own system to begin from; found by trial where left out
 */
export function inverseOf(convert: PairConversion, start?: readonly [number, number]): PairConversion {
  let last: readonly [number, number] | null = start ?? null
  return (xy, out) => {
    for (let i = 0; i + 1 < xy.length; i += 2) {
      const [x, y] = [xy[i]!, xy[i + 1]!]
      const found = searched(convert, x, y, last) ?? searched(convert, x, y, nearest(convert, x, y))
      if (found) last = found
      out[i] = found ? found[0] : Number.NaN
      out[i + 1] = found ? found[1] : Number.NaN
    }
  }
}

function searched(
  convert: PairConversion,
  x: number,
  y: number,
  from: readonly [number, number] | null,
): [number, number] | null {
  if (from === null || Number.isNaN(x + y)) return null
  let [u, v] = from
  const near = metShare * (Math.abs(x) + Math.abs(y) + 1)
  for (let step = 0; step < mostSteps; step++) {
    const h = slopeShare * (Math.abs(u) + Math.abs(v) + 1)
    const at = Float64Array.of(u, v, u + h, v, u, v + h)
    convert(at, at)
    const [dx, dy] = [x - at[0]!, y - at[1]!]
    if (Number.isNaN(dx + dy)) return null
    const [xu, yu, xv, yv] = [at[2]! - at[0]!, at[3]! - at[1]!, at[4]! - at[0]!, at[5]! - at[1]!]
    const determinant = xu * yv - xv * yu
    const du = (h * (dx * yv - dy * xv)) / determinant
    const dv = (h * (dy * xu - dx * yu)) / determinant
    if (!Number.isFinite(du + dv)) return null
    u += du
    v += dv
    const small = Math.abs(du) + Math.abs(dv) <= 1e-13 * (Math.abs(u) + Math.abs(v) + 1)
    if (small || Math.abs(dx) + Math.abs(dy) <= near) return [u, v]
  }
  return null
}

/** Starting pairs, in metres or degrees: powers of ten in every direction reach into the middle of each usual system. */
const trials = [0, 1, 10, 50, 100, 1e5, 5e5, 1e6, 3e6, 7e6].flatMap((a) =>
  [0, 1, 10, 50, 100, 1e5, 5e5, 1e6, 3e6, 7e6].flatMap((b) => [
    [a, b],
    [-a, b],
    [a, -b],
    [-a, -b],
  ]),
)

/** The trial whose image lies nearest. */
function nearest(convert: PairConversion, x: number, y: number): [number, number] | null {
  const at = Float64Array.from(trials.flat())
  convert(at, at)
  let best: [number, number] | null = null
  let least = Number.POSITIVE_INFINITY
  for (const [i, [u, v]] of trials.entries()) {
    const distance = Math.hypot(at[2 * i]! - x, at[2 * i + 1]! - y)
    if (distance < least) {
      least = distance
      best = [u!, v!]
    }
  }
  return best
}
