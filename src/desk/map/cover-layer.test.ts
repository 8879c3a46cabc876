import { expect, test } from 'vitest'
import { coverLevels } from './cover-layer.ts'

test('the coarsest level holds the whole frame in one tile', () => {
  expect(coverLevels(100, 200)).toBe(0)
  expect(coverLevels(256, 256)).toBe(0)
  expect(coverLevels(257, 10)).toBe(1)
  expect(coverLevels(7700, 7700)).toBe(5)
})
