import { expect, test } from 'vitest'
import { pointerReference } from './pointer-reference.ts'

// Caister water tower: A guide to coordinate systems in Great Britain (Ordnance Survey) gives TG 51409 13177.
test.each([
  [0.05, 'TG 51409 13177'],
  [1, 'TG 51409 13177'],
  [1.5, 'TG 5140 1317'],
  [40, 'TG 514 131'],
  [2000, 'TG 51 13'],
])('at %d m a pixel the pointer reads %s', (metresPerPixel, text) =>
  expect(pointerReference(27_700, 651_409.903, 313_177.27, metresPerPixel)).toBe(text),
)

test('another grid has no letters, and beyond them there are none', () => {
  expect(pointerReference(32_631, 322_841, 5_875_738, 0.5)).toBeNull()
  expect(pointerReference(27_700, -2_000_000, 0, 0.5)).toBeNull()
})
