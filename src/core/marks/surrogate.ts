import { type Random, unit } from '#core/random'
import type { Raster } from './candidate.ts'
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
      const size = Math.hypot(re[i]! + re[j]!, im[i]! - im[j]!) / 2
      const noiseRe = im[i]! + im[j]!
      const noiseIm = re[j]! - re[i]!
      const length = Math.hypot(noiseRe, noiseIm)
      if (length === 0) continue
      out.re[i] = (size * share * noiseRe) / length
      out.im[i] = (size * share * noiseIm) / length
    }
  }
  transform(out, 1)
  return { columns, rows, values: out.re }
}

/**
 * Ground with the pixels of an image in small squares that are shuffled and turned: every brightness stays, no ring does.
 *
 * Input   `side` of a square, pixels, that divides both sides of the image. Squares that touch no data stay where they are.
 */
export function shuffledSurrogate({ columns, rows, values }: Raster, side: number, random: Random): Raster {
  if (columns % side !== 0 || rows % side !== 0)
    throw new RangeError(`squares of ${side} do not fill ${columns} x ${rows}`)
  const across = columns / side
  const order = Array.from({ length: across * (rows / side) }, (_, i) => i)
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(unit(random) * (i + 1))
    ;[order[i], order[j]] = [order[j]!, order[i]!]
  }
  const out = new Float32Array(values.length)
  order.forEach((from, to) => {
    const way = random.word() & 7
    const [fromTop, fromLeft] = [Math.floor(from / across) * side, (from % across) * side]
    const [toTop, toLeft] = [Math.floor(to / across) * side, (to % across) * side]
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        let [a, b] = way & 4 ? [y, x] : [x, y]
        if (way & 1) a = side - 1 - a
        if (way & 2) b = side - 1 - b
        out[(toTop + y) * columns + toLeft + x] = values[(fromTop + b) * columns + fromLeft + a]!
      }
    }
  })
  return { columns, rows, values: out }
}
