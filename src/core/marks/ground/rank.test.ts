import fc from 'fast-check'
import { expect, test } from 'vitest'
import { valueOfRank } from './rank.ts'

test('a value of a rank is the one that sorting puts there', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 1 }), fc.nat(), (values, n) => {
      const rank = n % values.length
      const sorted = values.toSorted((a, b) => a - b)
      expect(valueOfRank(Float64Array.from(values), rank)).toBe(sorted[rank])
    }),
  )
})
