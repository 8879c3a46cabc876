import { type Random, unit } from '#core/random'
import type { Raster } from '../candidate.ts'
import { complexPlane, quickLength, transform } from './fourier.ts'

/**
 * Ground with the grain of an image and nothing else of it: the same power spectrum, phases drawn anew.
 *
 * Method  Theiler et al. 1992, "Testing for nonlinearity in time series: the method of surrogate data", Physica D 58, 77 to 94, in two dimensions. The phases are
 *         those of white noise, whose transform has the symmetry of a real image. Pixels without data count as 0: give an image whose broad light and dark are taken out.
 * Faults  RangeError unless both sides are lengths that the transform is quick for.
 */
export function phaseSurrogate({ columns, rows, values }: Raster, random: Random): Raster {
  if (columns !== quickLength(columns) || rows !== quickLength(rows))
    throw new RangeError(`no quick transform of ${columns} x ${rows}`)
  const plane = complexPlane(columns, rows)
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!
    plane.re[i] = Number.isNaN(value) ? 0 : value
    // Twelve even numbers would do as well: only phases are taken from these.
    plane.im[i] = unit(random) + unit(random) + unit(random) - 1.5
  }
  transform(plane, -1)
  const out = complexPlane(columns, rows)
  const { re, im } = plane
  const share = 1 / values.length
  for (let v = 0; v < rows; v++) {
    const opposite = ((rows - v) % rows) * columns
    for (let u = 0; u < columns; u++) {
      const i = v * columns + u
      const j = opposite + ((columns - u) % columns)
      // The image is the even part, the noise the odd one, of two real images packed into one plane.
      const imageRe = re[i]! + re[j]!
      const imageIm = im[i]! - im[j]!
      const noiseRe = im[i]! + im[j]!
      const noiseIm = re[j]! - re[i]!
      const length = noiseRe * noiseRe + noiseIm * noiseIm
      if (length === 0) continue
      const times = (share / 2) * Math.sqrt((imageRe * imageRe + imageIm * imageIm) / length)
      out.re[i] = times * noiseRe
      out.im[i] = times * noiseIm
    }
  }
  transform(out, 1)
  return { columns, rows, values: out.re }
}
