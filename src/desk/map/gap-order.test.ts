import { expect, test } from 'vitest'
import type { GapView } from '#contract'
import { gapBeside, largestFirst } from './gap-order.ts'

const gap = (id: number, areaM2: number): GapView => ({
  id,
  areaM2,
  polygons: [] as unknown as GapView['polygons'],
})
const gaps = largestFirst([gap(1, 5), gap(2, 90), gap(3, 20)])

test('gaps come largest first', () => {
  expect(gaps.map(({ id }) => id)).toEqual([2, 3, 1])
})

test('next and previous go round', () => {
  expect(gapBeside(gaps, null, 1)?.id).toBe(2)
  expect(gapBeside(gaps, { kind: 'gap', id: 2 }, 1)?.id).toBe(3)
  expect(gapBeside(gaps, { kind: 'gap', id: 1 }, 1)?.id).toBe(2)
  expect(gapBeside(gaps, { kind: 'gap', id: 2 }, -1)?.id).toBe(1)
  expect(gapBeside(gaps, { kind: 'area', id: 2 }, 1)?.id).toBe(2)
  expect(gapBeside([], null, 1)).toBeNull()
})
