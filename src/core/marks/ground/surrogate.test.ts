import { expect, test } from 'vitest'
import { normal, seededRandom } from '#core/random'
import type { Raster } from '../candidate.ts'
import { complexPlane, transform } from './fourier.ts'
import { phaseSurrogatePair } from './surrogate.ts'

const [columns, rows] = [48, 32]

function noise(seed: number): Raster {
  const random = seededRandom(seed)
  const values = Float32Array.from({ length: columns * rows }, () => normal(random))
  return { columns, rows, values }
}

function amplitudes({ values }: Raster): Float64Array {
  const plane = complexPlane(columns, rows)
  plane.re.set(values)
  transform(plane, -1)
  return Float64Array.from(plane.re, (re, i) => Math.hypot(re, plane.im[i]!))
}

const correlation = (a: Float32Array, b: Float32Array): number => {
  const dot = (p: Float32Array, q: Float32Array): number =>
    p.reduce((sum, value, i) => sum + value * q[i]!, 0)
  return dot(a, b) / Math.sqrt(dot(a, a) * dot(b, b))
}

test('each of a pair of surrogates has the amplitudes of its own image, and neither its phases nor those of the other', () => {
  const images = [noise(1), noise(2)] as const
  const pair = phaseSurrogatePair(images[0], images[1], seededRandom(3))
  images.forEach((image, i) => {
    const wanted = amplitudes(image)
    amplitudes(pair[i]!).forEach((amplitude, k) => {
      // Single floats, sums of some thousand numbers about 1.
      expect(Math.abs(amplitude - wanted[k]!)).toBeLessThan(0.01)
    })
  })
  // White noise of 1536 values correlates by 0.03 by chance, its standard deviation.
  expect(Math.abs(correlation(images[0].values, pair[0].values))).toBeLessThan(0.12)
  expect(Math.abs(correlation(pair[0].values, pair[1].values))).toBeLessThan(0.12)
  expect(() =>
    phaseSurrogatePair({ columns: 7, rows: 16, values: new Float32Array(112) }, images[1], seededRandom(1)),
  ).toThrow(RangeError)
})
