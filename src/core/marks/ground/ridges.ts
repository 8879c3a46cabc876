import { quicklySmoothed } from './quickly-smoothed.ts'

/** How strongly each pixel lies on a bright line, and which way the line runs. */
export interface Ridges {
  readonly strength: Float32Array
  /** Strength times cosine and sine of twice the angle of the line's normal, from the columns' direction towards the rows'. */
  readonly cosine: Float32Array
  readonly sine: Float32Array
}

/** Standard deviations of the Gaussians, pixels: lines of some 2 to 6 pixels. */
const usualScales: readonly number[] = [1.1, 1.9]

/** How far, in pixels, a ridge looks. */
export const ridgeReach = 8

/**
 * Bright lines by the second derivatives of the image, the stronger of the widths asked for: Gaussians of at most 2 pixels.
 *
 * Method  eigenvalues of the Hessian of the Gaussian-smoothed image, Lindeberg 1998 ("Edge detection and ridge detection with automatic scale
 *         selection", IJCV 30, 117 to 154), times the variance of the Gaussian. Strength is the curvature across less the absolute
 *         curvature along, so that a round blob has none. `noise` is the standard deviation of strength on bare ground a scale;
 *         strengths are given in it and level off (t / (1 + t / `ceiling`)), so that one hard edge counts as few soft ones.
 */
export function ridges(
  values: Float32Array,
  { columns, rows }: { readonly columns: number; readonly rows: number },
  scales = usualScales,
): Ridges {
  const size = columns * rows
  const found: Ridges = {
    strength: new Float32Array(size),
    cosine: new Float32Array(size),
    sine: new Float32Array(size),
  }
  for (const sigma of scales) {
    const smooth = quicklySmoothed(values, columns, rows, sigma)
    for (let row = 1; row < rows - 1; row++) ridgeRow(smooth, columns, row, sigma * sigma, found)
  }
  return found
}

/** The derivatives of the smoothed image by differences; `factor`, the variance of the Gaussian, keeps lines of either width comparable. */
function ridgeRow(
  smooth: Float32Array,
  columns: number,
  row: number,
  factor: number,
  { strength, cosine, sine }: Ridges,
): void {
  for (let i = row * columns + 1, end = i + columns - 2; i < end; i++) {
    const middle = 2 * smooth[i]!
    const xx = smooth[i - 1]! + smooth[i + 1]! - middle
    const yy = smooth[i - columns]! + smooth[i + columns]! - middle
    // No strength is over twice the mean curvature: most pixels of a second width are done here.
    const most = -factor * (xx + yy)
    if (most <= strength[i]!) continue
    const half = (xx - yy) * 0.5
    const xy =
      0.25 *
      (smooth[i - columns - 1]! +
        smooth[i + columns + 1]! -
        smooth[i - columns + 1]! -
        smooth[i + columns - 1]!)
    const root = Math.sqrt(half * half + xy * xy)
    // Curvature across is root - mean, along mean + root: the difference of their sizes is this.
    const value = Math.min(2 * factor * root, most)
    if (value <= strength[i]!) continue
    strength[i] = value
    // The normal of a bright line is the direction of the lower eigenvalue, a right angle from that of the upper.
    const share = -value / root
    cosine[i] = half * share
    sine[i] = xy * share
  }
}

/** Levels strengths off at `ceiling` times `unit` and gives them in `unit`. */
export function levelOff({ strength, cosine, sine }: Ridges, unit: number, ceiling: number): void {
  for (let i = 0; i < strength.length; i++) {
    const value = strength[i]!
    if (value === 0) continue
    const times = 1 / (unit * (1 + value / (unit * ceiling)))
    strength[i] = value * times
    cosine[i]! *= times
    sine[i]! *= times
  }
}
