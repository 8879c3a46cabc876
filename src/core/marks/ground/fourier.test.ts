import fc from 'fast-check'
import { expect, test } from 'vitest'
import { besselJ0, besselJ1, besselJ2 } from './bessel.ts'
import { complexPlane, quickLength, transform } from './fourier.ts'

test('a transform is the sum that defines it', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(16, 48, 80, 144),
      fc.constantFrom(16, 32, 48, 240),
      fc.nat(),
      fc.nat(),
      (columns, rows, a, b) => {
        const plane = complexPlane(columns, rows)
        for (let i = 0; i < plane.re.length; i++) {
          plane.re[i] = Math.sin(i * 1.7 + a)
          plane.im[i] = Math.cos(i * i * 0.31)
        }
        const [u, v] = [a % columns, b % rows]
        let [re, im] = [0, 0]
        for (let y = 0; y < rows; y++) {
          for (let x = 0; x < columns; x++) {
            const angle = -2 * Math.PI * ((u * x) / columns + (v * y) / rows)
            const [p, q] = [plane.re[y * columns + x]!, plane.im[y * columns + x]!]
            re += p * Math.cos(angle) - q * Math.sin(angle)
            im += p * Math.sin(angle) + q * Math.cos(angle)
          }
        }
        transform(plane, -1)
        // Single floats, sums of some ten thousand numbers about 1.
        expect(Math.hypot(plane.re[v * columns + u]! - re, plane.im[v * columns + u]! - im)).toBeLessThan(
          0.01,
        )
      },
    ),
    { numRuns: 20 },
  )
})

test('back and forth gives the plane again', () => {
  const plane = complexPlane(80, 144)
  for (let i = 0; i < plane.re.length; i++) plane.re[i] = Math.sin(i * i)
  const before = plane.re.slice()
  transform(plane, -1)
  transform(plane, 1)
  let worst = 0
  before.forEach((value, i) => {
    worst = Math.max(
      worst,
      Math.abs(plane.re[i]! / before.length - value),
      Math.abs(plane.im[i]! / before.length),
    )
  })
  expect(worst).toBeLessThan(1e-5)
})

test('quick lengths hold what is asked and are quick', () => {
  for (const least of [1, 17, 500, 1106, 2028, 5000]) {
    const length = quickLength(least)
    expect(length).toBeGreaterThanOrEqual(least)
    expect(length).toBeLessThan(1.35 * least + 16)
    transform(complexPlane(length, 16), -1)
  }
  expect(() => transform(complexPlane(7 * 16, 16), -1)).toThrow(RangeError)
  expect(() => transform(complexPlane(20, 16), -1)).toThrow(RangeError)
})

// Abramowitz and Stegun 1964, table 9.1: J0, J1 and J2 at 1, 2.4, 5, 10; the formulas used are good to 1e-7.
test.each([
  [1, 0.7651976866, 0.4400505857, 0.1149034849],
  [2.4, 0.0025076833, 0.520185268, 0.4309800402],
  [5, -0.1775967713, -0.3275791376, 0.0465651163],
  [10, -0.2459357645, 0.0434727462, 0.2546303137],
])('Bessel functions at %d are those of the tables', (x, j0, j1, j2) => {
  expect(besselJ0(x)).toBeCloseTo(j0, 6)
  expect(besselJ1(x)).toBeCloseTo(j1, 6)
  expect(besselJ2(x)).toBeCloseTo(j2, 6)
})
