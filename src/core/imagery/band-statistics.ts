import type { BandValues } from './bands.ts'

/** Mean of each band, and their covariances row by row (divided by the number of pixels). */
export interface BandStatistics {
  readonly pixels: number
  readonly mean: Float64Array
  readonly covariance: Float64Array
}

/**
 * Means and covariances over the pixels whose alpha is above 0; zeros where there is none. Two passes, so that nothing is lost where
 * the values are large and alike. Cost: pixels times the square of the number of bands.
 */
export function bandStatistics(bands: readonly BandValues[], alpha: Uint8Array): BandStatistics {
  const n = bands.length
  const mean = new Float64Array(n)
  const covariance = new Float64Array(n * n)
  let pixels = 0
  for (const value of alpha) if (value !== 0) pixels += 1
  if (pixels === 0) return { pixels, mean, covariance }
  bands.forEach((values, band) => {
    let sum = 0
    for (let i = 0; i < alpha.length; i++) if (alpha[i] !== 0) sum += values[i]!
    mean[band] = sum / pixels
  })
  for (let p = 0; p < n; p++)
    for (let q = p; q < n; q++) {
      const [a, b, meanA, meanB] = [bands[p]!, bands[q]!, mean[p]!, mean[q]!]
      let sum = 0
      for (let i = 0; i < alpha.length; i++) if (alpha[i] !== 0) sum += (a[i]! - meanA) * (b[i]! - meanB)
      covariance[p * n + q] = sum / pixels
      covariance[q * n + p] = sum / pixels
    }
  return { pixels, mean, covariance }
}
