import { besselJ0, besselJ2 } from '../ground/bessel.ts'

/** Spectra of what is laid over the image for one radius, as tables over the length of the wave vector. */
export interface RingKernel {
  readonly radius: number
  /** Mean of ridge strength over the circle; and the part of it that asks for normals along the radius. */
  readonly even: Float32Array
  readonly aligned: Float32Array
  /** The ring of a ditch, matched to the grain of the ground. */
  readonly matched: Float32Array
}

/** Steps of a table from 0 to the longest wave vector of a pixel grid, pi times root 2. */
export const tableSteps = 384
export const tableStep = (Math.PI * Math.SQRT2) / (tableSteps - 1)

/** Standard deviation of the Gaussian that lines are looked for with, pixels of the level. */
export const lineScales: readonly number[] = [1.2]

/** How far beyond its radius a kernel reaches, pixels. */
export const kernelMargin = 14
const taperFrom = 8

/** Half a pixel: kernels are smooth over at least twice that. */
const radialStep = 0.5

const lineSigma = 0.6
const ditchSigma = 0.8

/**
 * Kernels for rings of the radii given, pixels.
 *
 * Method  votes: a circle softened by a Gaussian, its transform exp(-k^2 s^2 / 2) J0(k r); ridge normals enter by the second harmonic, which
 *         turns J0 into -J2. Matched: the transform of a ditch of Gaussian section divided by the power spectrum of the ground
 *         (North 1943, the filter of greatest signal to noise), brought back to the plane, cut off smoothly beyond the ring, and transformed again,
 *         so that a kernel has an end.
 * Input   `power` over the table's steps: the radial power spectrum of the flattened ground.
 */
export function ringKernels(radii: readonly number[], power: Float64Array): RingKernel[] {
  return radii.map((radius) => {
    const even = new Float32Array(tableSteps)
    const aligned = new Float32Array(tableSteps)
    const wish = new Float64Array(tableSteps)
    for (let i = 0; i < tableSteps; i++) {
      const k = i * tableStep
      const soft = Math.exp((-k * k * lineSigma * lineSigma) / 2)
      even[i] = soft * besselJ0(k * radius)
      aligned[i] = -soft * besselJ2(k * radius)
      wish[i] = (Math.exp((-k * k * ditchSigma * ditchSigma) / 2) * besselJ0(k * radius)) / power[i]!
    }
    return { radius, even, aligned, matched: withAnEnd(wish, radius) }
  })
}

function withAnEnd(spectrum: Float64Array, radius: number): Float32Array {
  const end = radius + kernelMargin
  const count = Math.ceil(end / radialStep)
  const weighted = new Float64Array(count)
  let total = 0
  for (let i = 0; i < count; i++) {
    const rho = (i + 0.5) * radialStep
    let sum = 0
    for (let j = 1; j < tableSteps; j++) {
      const k = j * tableStep
      // Beyond pi lie only the corners of the square of frequencies.
      if (k > Math.PI) break
      sum += spectrum[j]! * besselJ0(k * rho) * k
    }
    const past = Math.max(0, (rho - radius - taperFrom) / (kernelMargin - taperFrom))
    weighted[i] = sum * tableStep * (0.5 + 0.5 * Math.cos(Math.PI * Math.min(1, past))) * rho * radialStep
    total += weighted[i]!
  }
  // What the cutting left of a mean is taken out again: even ground gives 0.
  const area = weighted.reduce((sum, _, i) => sum + (i + 0.5) * radialStep * radialStep, 0)
  for (let i = 0; i < count; i++) weighted[i]! -= (total / area) * (i + 0.5) * radialStep * radialStep
  const out = new Float32Array(tableSteps)
  for (let j = 0; j < tableSteps; j++) {
    let sum = 0
    for (let i = 0; i < count; i++) sum += weighted[i]! * besselJ0(j * tableStep * (i + 0.5) * radialStep)
    out[j] = sum
  }
  return out
}
