import { bandStatistics } from './band-statistics.ts'
import type { Bands } from './bands.ts'
import { symmetricEigen } from './symmetric-eigen.ts'

/** Middle grey, and the standard deviation given to every band: two and a half of them reach black and white (common practice). */
const targetMean = 127.5
const targetDeviation = 50
/** A component with less than this share of the greatest variance is what rounding left, and is dropped. */
const leastShare = 1e-9

/** Grey of the shown band k is `offset[k]` plus the sum over bands of `matrix[k * n + band] * value`. */
export interface ColourMixing {
  readonly matrix: Float64Array
  readonly offset: Float64Array
}

/**
 * Decorrelation stretch: bands are turned to their principal components, each component is given the same variance, and the turn is
 * undone. With covariance C = R^T L R (rows of R the eigenvectors, L the variances) and target deviation t:
 * out = 127.5 + t R^T L^(-1/2) R (in - mean). Bands so made do not correlate; hues keep their sense. Adding a constant to a band, or
 * multiplying all by one number, changes nothing.
 *
 * Shape   all n bands are used, the first three shown: a matrix of 3 x n.
 * Source  Gillespie, Kahle and Walker 1986, Remote Sensing of Environment 20, 209 to 235, with the covariance matrix.
 * Cost    two passes over the image for each pair of bands.
 * Faults  RangeError for fewer than three bands.
 */
export function decorrelation(image: Bands, alpha: Uint8Array): ColourMixing {
  const n = image.bands.length
  if (n < 3) throw new RangeError(`three bands are needed, got ${n}`)
  const { mean, covariance } = bandStatistics(image.bands, alpha)
  const { values, vectors } = symmetricEigen(covariance, n)
  const matrix = new Float64Array(3 * n)
  values.forEach((variance, k) => {
    if (!(variance > leastShare * values[0]!)) return
    const gain = targetDeviation / Math.sqrt(variance)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < n; j++) matrix[i * n + j]! += gain * vectors[k * n + i]! * vectors[k * n + j]!
  })
  const offset = Float64Array.from({ length: 3 }, (_, i) =>
    mean.reduce((sum, value, j) => sum - matrix[i * n + j]! * value, targetMean),
  )
  return { matrix, offset }
}

/** Fills red, green and blue of each pixel (four bytes a pixel) by a mixing. */
export function fillMixed({ bands }: Bands, { matrix, offset }: ColourMixing, out: Uint8ClampedArray): void {
  const n = bands.length
  for (let k = 0; k < 3; k++)
    for (let i = 0, p = k; p < out.length; i++, p += 4) {
      let sum = offset[k]!
      for (let band = 0; band < n; band++) sum += matrix[k * n + band]! * bands[band]![i]!
      out[p] = sum
    }
}

/**
 * The weights of a principal component: its value is the weighted sum of the bands, less what it is at their means.
 *
 * Source  Pearson 1901, Philosophical Magazine 2, 559 to 572; eigenvectors of the covariance matrix, the greatest variance first.
 * Faults  RangeError where there is no such component.
 */
export function componentWeights(image: Bands, alpha: Uint8Array, component: number): Float64Array {
  const n = image.bands.length
  if (!(Number.isInteger(component) && component >= 1 && component <= n))
    throw new RangeError(`no component ${component} of ${n} bands`)
  const { covariance } = bandStatistics(image.bands, alpha)
  return symmetricEigen(covariance, n).vectors.slice((component - 1) * n, component * n)
}
