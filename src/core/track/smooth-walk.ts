/** Fixes of one unbroken piece of a walk, in order of time. */
export interface WalkPiece {
  /** Seconds, strictly ascending. */
  readonly time: Float64Array
  /** Interleaved easting, northing; metres. */
  readonly xy: Float64Array
  /** Standard deviation of each fix along one axis, metres; 0 where the fix is believed. */
  readonly errorM: Float64Array
}

export interface SmoothedPiece {
  readonly xy: Float64Array
  /** Interleaved, metres a second. */
  readonly velocity: Float64Array
  /** Standard deviation of the smoothed place along one axis, metres. */
  readonly errorM: Float64Array
  /** Standard deviation of the smoothed velocity along one axis, metres a second. */
  readonly velocityErrorMS: Float64Array
}

/** Before the first fix the place is unknown, and the velocity along one axis 0 with this standard deviation. */
export interface WalkModel {
  readonly accelerationM2S3: number
  readonly firstSpeedMS: number
}

/** Numbers kept a fix on the way forward: filtered state of two axes (4), its covariance (3), the predicted covariance (3). */
const kept = 10

/**
 * The most likely walk behind noisy fixes, and how sure each place is.
 *
 * Model   constant velocity with a white acceleration of density q; both axes alike, so one covariance serves both. Over a step
 *         of t seconds F = [1 t; 0 1], Q = q [t^3/3 t^2/2; t^2/2 t].
 * Method  Kalman filter forwards, then the fixed-interval smoother backwards: x_s = x + G (x_s' - F x), P_s = P + G (P_s' - P') G',
 *         G = P F' P'^-1.
 * Source  Rauch, Tung and Striebel 1965, "Maximum likelihood estimates of linear dynamic systems", AIAA Journal 3 (8), eqs
 *         3.30 to 3.32; docs/methods/track.md#smoothing.
 * Cost    linear; 80 bytes a fix.
 * Faults  RangeError where the times do not ascend.
 */
export function smoothWalk({ time, xy, errorM }: WalkPiece, model: WalkModel): SmoothedPiece {
  const n = time.length
  const out = {
    xy: new Float64Array(2 * n),
    velocity: new Float64Array(2 * n),
    errorM: new Float64Array(n),
    velocityErrorMS: new Float64Array(n),
  }
  if (n === 0) return out
  const way = filterForwards(time, xy, errorM, model)
  smoothBackwards(time, way, out)
  // Worked from the first fix, so that a walk and the same walk elsewhere have the same last bits.
  for (let i = 0; i < 2 * n; i += 2) {
    out.xy[i]! += xy[0]!
    out.xy[i + 1]! += xy[1]!
  }
  return out
}

function filterForwards(
  time: Float64Array,
  xy: Float64Array,
  errorM: Float64Array,
  { accelerationM2S3: q, firstSpeedMS }: WalkModel,
): Float64Array {
  const n = time.length
  const way = new Float64Array(kept * n)
  let [x, y, u, v] = [0, 0, 0, 0]
  let [pp, pv, vv] = [errorM[0]! ** 2, 0, firstSpeedMS ** 2]
  way.set([x, y, u, v, pp, pv, vv], 0)
  for (let i = 1; i < n; i++) {
    const t = time[i]! - time[i - 1]!
    if (!(t > 0)) throw new RangeError(`times must ascend, not from ${time[i - 1]} to ${time[i]}`)
    x += t * u
    y += t * v
    pp += t * (2 * pv + t * vv) + (q * t * t * t) / 3
    pv += t * vv + (q * t * t) / 2
    vv += q * t
    const at = kept * i
    way[at + 7] = pp
    way[at + 8] = pv
    way[at + 9] = vv
    const spread = pp + errorM[i]! ** 2
    const gain = pp / spread
    const speedGain = pv / spread
    const east = xy[2 * i]! - xy[0]! - x
    const north = xy[2 * i + 1]! - xy[1]! - y
    x += gain * east
    y += gain * north
    u += speedGain * east
    v += speedGain * north
    vv -= speedGain * pv
    pv *= 1 - gain
    pp *= 1 - gain
    way[at] = x
    way[at + 1] = y
    way[at + 2] = u
    way[at + 3] = v
    way[at + 4] = pp
    way[at + 5] = pv
    way[at + 6] = vv
  }
  return way
}

function smoothBackwards(time: Float64Array, way: Float64Array, out: SmoothedPiece): void {
  const n = time.length
  const last = kept * (n - 1)
  let [x, y, u, v, pp, pv, vv] = way.subarray(last, last + 7) as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  for (let i = n - 1; ; i--) {
    out.xy[2 * i] = x
    out.xy[2 * i + 1] = y
    out.velocity[2 * i] = u
    out.velocity[2 * i + 1] = v
    out.errorM[i] = Math.sqrt(Math.max(0, pp))
    out.velocityErrorMS[i] = Math.sqrt(Math.max(0, vv))
    if (i === 0) return
    const t = time[i]! - time[i - 1]!
    const next = kept * i
    const [npp, npv, nvv] = [way[next + 7]!, way[next + 8]!, way[next + 9]!]
    const at = next - kept
    const [fx, fy, fu, fv] = [way[at]!, way[at + 1]!, way[at + 2]!, way[at + 3]!]
    const [fpp, fpv, fvv] = [way[at + 4]!, way[at + 5]!, way[at + 6]!]
    const det = npp * nvv - npv * npv
    const [a, b, c] = [fpp + t * fpv, fpv, fpv + t * fvv]
    const gpp = (a * nvv - b * npv) / det
    const gpv = (b * npp - a * npv) / det
    const gvp = (c * nvv - fvv * npv) / det
    const gvv = (fvv * npp - c * npv) / det
    const [dx, dy, du, dv] = [x - fx - t * fu, y - fy - t * fv, u - fu, v - fv]
    x = fx + gpp * dx + gpv * du
    y = fy + gpp * dy + gpv * dv
    u = fu + gvp * dx + gvv * du
    v = fv + gvp * dy + gvv * dv
    const [epp, epv, evv] = [pp - npp, pv - npv, vv - nvv]
    pp = fpp + gpp * gpp * epp + 2 * gpp * gpv * epv + gpv * gpv * evv
    pv = fpv + gpp * gvp * epp + (gpp * gvv + gpv * gvp) * epv + gpv * gvv * evv
    vv = fvv + gvp * gvp * epp + 2 * gvp * gvv * epv + gvv * gvv * evv
  }
}
