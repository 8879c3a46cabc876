import { type Random, unit } from '#core/random'
import type { Raster } from '../candidate.ts'
import { type ComplexPlane, complexPlane, quickLength, transform } from './fourier.ts'

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

/**
 * Surrogates of two images of one size at the cost of one: the real and the imaginary part of one plane both ways. Else as `phaseSurrogate`, but for the phases, which
 * are drawn evenly from 4096 directions, one word of `random` for a frequency and its opposite of either image.
 */
export function phaseSurrogatePair(first: Raster, second: Raster, random: Random): readonly [Raster, Raster] {
  const { columns, rows } = first
  if (columns !== quickLength(columns) || rows !== quickLength(rows))
    throw new RangeError(`no quick transform of ${columns} x ${rows}`)
  const plane = complexPlane(columns, rows)
  const { re, im } = plane
  for (let i = 0; i < re.length; i++) {
    re[i] = Number.isNaN(first.values[i]!) ? 0 : first.values[i]!
    im[i] = Number.isNaN(second.values[i]!) ? 0 : second.values[i]!
  }
  transform(plane, -1)
  for (let v = 0; v < rows; v++) newPhases(plane, v, random)
  transform(plane, 1)
  return [
    { columns, rows, values: re },
    { columns, rows, values: im },
  ]
}

/** New phases for a row of frequencies and their opposites, of both images of a plane. */
function newPhases({ columns, rows, re, im }: ComplexPlane, v: number, random: Random): void {
  const share = 1 / (2 * re.length)
  const opposite = ((rows - v) % rows) * columns
  for (let u = 0; u <= columns / 2; u++) {
    const i = v * columns + u
    const j = opposite + ((columns - u) % columns)
    // Of the first and the last column, each frequency's opposite lies in the same column: once for both.
    if (i > j && (u === 0 || 2 * u === columns)) continue
    const sumRe = re[i]! + re[j]!
    const sumIm = im[i]! + im[j]!
    const offRe = re[i]! - re[j]!
    const offIm = im[i]! - im[j]!
    const a = share * Math.sqrt(sumRe * sumRe + offIm * offIm)
    const b = share * Math.sqrt(sumIm * sumIm + offRe * offRe)
    const word = random.word()
    // A frequency that is its own opposite is real: its phase is 0 or half a turn.
    const mask = i === j ? directionCount / 2 : directionCount - 1
    const p = word & mask
    const q = (word >>> 12) & mask
    const ar = a * directions.cos[p]!
    const ai = a * directions.sin[p]!
    const br = b * directions.cos[q]!
    const bi = b * directions.sin[q]!
    re[i] = ar - bi
    im[i] = ai + br
    re[j] = ar + bi
    im[j] = br - ai
  }
}

const directionCount = 4096
const angle = (i: number): number => (2 * Math.PI * i) / directionCount
const directions = {
  cos: Float64Array.from({ length: directionCount }, (_, i) => Math.cos(angle(i))),
  sin: Float64Array.from({ length: directionCount }, (_, i) => Math.sin(angle(i))),
}
