import fc from 'fast-check'
import { expect, test } from 'vitest'
import { gridSpacing, gridValues } from './grid-lines.ts'

test('main lines stand 96 to 240 pixels apart at any scale, fine lines divide them', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.005, max: 5000, noNaN: true }), (metresPerPixel) => {
      const { main, fine } = gridSpacing(metresPerPixel)
      const pixels = main / metresPerPixel
      expect(pixels).toBeGreaterThanOrEqual(96 - 1e-6)
      expect(pixels).toBeLessThanOrEqual(240 + 1e-6)
      expect([4, 5]).toContain(Math.round(main / fine))
    }),
  )
})

test('values are the multiples within the range, ends included', () => {
  expect(gridValues(571_180, 571_400, 100)).toEqual([571_200, 571_300, 571_400])
  expect(gridValues(1, 9, 10)).toEqual([])
})
