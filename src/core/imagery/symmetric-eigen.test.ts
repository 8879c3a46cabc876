import fc from 'fast-check'
import { expect, test } from 'vitest'
import { symmetricEigen } from './symmetric-eigen.ts'

test('worked by hand: 2 1 / 1 2 has 3 along (1, 1) and 1 along (1, -1)', () => {
  const { values, vectors } = symmetricEigen([2, 1, 1, 2], 2)
  const r = Math.SQRT1_2
  expect([...values].map((value) => Number(value.toFixed(12)))).toEqual([3, 1])
  for (const [i, entry] of [r, r, r, -r].entries()) expect(vectors[i]).toBeCloseTo(entry, 14)
})

const anySymmetric = fc.integer({ min: 1, max: 9 }).chain((size) =>
  fc
    .array(fc.double({ min: -1e4, max: 1e4, noNaN: true }), {
      minLength: size * size,
      maxLength: size * size,
    })
    .map((entries) => ({
      size,
      matrix: entries.map((_, at) => {
        const [i, j] = [Math.floor(at / size), at % size]
        return (entries[i * size + j]! + entries[j * size + i]!) / 2
      }),
    })),
)

test('the vectors are at right angles, of length 1, and put the matrix together again', () => {
  fc.assert(
    fc.property(anySymmetric, ({ size, matrix }) => {
      const { values, vectors } = symmetricEigen(matrix, size)
      const largest = Math.max(...matrix.map(Math.abs), 1e-300)
      const row = (k: number) => vectors.subarray(k * size, (k + 1) * size)
      for (let i = 0; i < size; i++) {
        if (i > 0) expect(values[i]!).toBeLessThanOrEqual(values[i - 1]!)
        for (let j = 0; j < size; j++) {
          const dot = row(i).reduce((sum, entry, k) => sum + entry * row(j)[k]!, 0)
          expect(Math.abs(dot - (i === j ? 1 : 0))).toBeLessThan(1e-13)
          const entry = values.reduce((sum, value, k) => sum + value * row(k)[i]! * row(k)[j]!, 0)
          expect(Math.abs(entry - matrix[i * size + j]!)).toBeLessThan(1e-12 * largest)
        }
      }
    }),
  )
})

test('what is no matrix is refused', () => {
  expect(() => symmetricEigen([1, 2, 3], 2)).toThrow(RangeError)
  expect(() => symmetricEigen([1, Number.NaN, Number.NaN, 1], 2)).toThrow(RangeError)
})
