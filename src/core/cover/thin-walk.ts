import { loneFix, type PlanarTrack, type SweptLegs, sweptStep } from '#core/track'

/** A walk with fewer fixes: the legs of `kind` are those of the walk it came from, several in one where they lie on a line. */
export interface ThinWalk {
  readonly track: PlanarTrack
  /** As in `SweptLegs.kind`. */
  readonly kind: Uint8Array
  /** Number of each fix in the walk it came from. */
  readonly fix: Uint32Array
}

/** How far joined legs may stray, metres, by the class of the fix they begin at; null: all fixes are of class 0. */
export interface ThinTolerance {
  readonly classOf: Uint8Array | null
  readonly toleranceM: readonly number[]
  /** A joined leg lasts this long at most, seconds. */
  readonly longestS: number
}

/**
 * Joins legs that follow each other on a line: no fix left out lies farther than the tolerance to the side of the leg that stands for it, nor farther than
 * that past its end. A joined leg lasts `longestS` at most, so that its mean speed says something, and its fixes are of one class. A
 * tolerance of 0 joins nothing.
 *
 * Method  the sleeve of directions from the first fix that pass every later one within the tolerance (as in Williams 1978,
 *         "An efficient algorithm for the piecewise linear approximation of planar curves", Computer Graphics and Image Processing 8).
 * Cost    linear for walks; two arc functions a fix.
 */
export function thinWalk(
  track: PlanarTrack,
  { kind }: Pick<SweptLegs, 'kind'>,
  tolerance: ThinTolerance | number,
): ThinWalk {
  const { classOf, toleranceM, longestS } =
    typeof tolerance === 'number' ? { classOf: null, toleranceM: [tolerance], longestS: Infinity } : tolerance
  const count = kind.length
  const fix = new Uint32Array(count)
  const thin = new Uint8Array(count)
  let kept = 0
  for (let i = 0; i < count; i++) {
    if (kind[i] === loneFix) {
      fix[kept] = i
      thin[kept++] = loneFix
    }
    if (kind[i] !== sweptStep) continue
    let end = i
    while (kind[end] === sweptStep) end++
    while (i < end) {
      fix[kept] = i
      thin[kept++] = sweptStep
      const within = toleranceM[classOf?.[i] ?? 0]!
      i = within > 0 ? farthestOnLine(track, i, end, within, longestS, classOf) : i + 1
    }
    fix[kept++] = end
    // The last fix of a run may itself begin nothing, so the search goes on behind it.
    i = end
  }
  const kindOut = thin.slice(0, kept)
  const fixOut = fix.slice(0, kept)
  return { track: fixesOf(track, fixOut), kind: kindOut, fix: fixOut }
}

/** The last fix up to `end` that the line from fix `s` can be drawn to. */
function farthestOnLine(
  { xy, time }: PlanarTrack,
  s: number,
  end: number,
  tolerance: number,
  longestS: number,
  classOf: Uint8Array | null,
): number {
  const [x, y] = [xy[2 * s]!, xy[2 * s + 1]!]
  let [base, low, high, farthest] = [Number.NaN, 0, 0, 0]
  for (let v = s + 1; v <= end; v++) {
    if (v > s + 1 && time !== null && time[v]! - time[s]! > longestS) return v - 1
    if (classOf !== null && classOf[v - 1] !== classOf[s]) return v - 1
    const [dx, dy] = [xy[2 * v]! - x, xy[2 * v + 1]! - y]
    const distance = Math.sqrt(dx * dx + dy * dy)
    if (distance < farthest - tolerance) return v - 1
    if (distance <= tolerance) {
      if (farthest > 0) return v - 1
      continue
    }
    const angle = Math.atan2(dy, dx)
    const half = Math.asin(tolerance / distance)
    if (Number.isNaN(base)) base = angle
    let off = angle - base
    if (off > Math.PI) off -= 2 * Math.PI
    else if (off < -Math.PI) off += 2 * Math.PI
    if (farthest > 0 && (off < low || off > high)) return v - 1
    low = farthest > 0 ? Math.max(low, off - half) : off - half
    high = farthest > 0 ? Math.min(high, off + half) : off + half
    if (distance > farthest) farthest = distance
  }
  return end
}

function fixesOf({ epsg, xy, time }: PlanarTrack, fix: Uint32Array): PlanarTrack {
  const out = new Float64Array(2 * fix.length)
  for (let k = 0; k < fix.length; k++) {
    out[2 * k] = xy[2 * fix[k]!]!
    out[2 * k + 1] = xy[2 * fix[k]! + 1]!
  }
  const times = time === null ? null : Float64Array.from(fix, (i) => time[i]!)
  return { epsg, xy: out, segmentStart: Uint32Array.of(0), time: times }
}
