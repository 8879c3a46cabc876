import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkIn, type ExpectedBag } from './check-in.ts'

const bags: readonly ExpectedBag[] = [
  { number: 'NST-2026-001', kind: 'find' },
  { number: 'NST-2026-002', kind: 'find' },
  { number: 'NST-2026-003', kind: 'label' },
  { number: 'NST-2026-004', kind: 'label' },
]

test('a visit of two finds and two blank labels, one label used, one bag left in the car', () => {
  const read = ['NST-2026-003', 'NST-2026-001', 'ABC-2026-009', 'NST-2026-001']
  expect(checkIn(bags, read)).toEqual({
    here: [bags[2], bags[0]],
    missing: ['NST-2026-002'],
    unusedLabels: ['NST-2026-004'],
    unexpected: ['ABC-2026-009'],
    twice: ['NST-2026-001'],
  })
})

test('every number expected is here, missing or unused, and every number read is here or unexpected', () => {
  const number = fc.constantFrom(...bags.map((bag) => bag.number), 'ABC-2026-001', 'ABC-2026-002')
  fc.assert(
    fc.property(fc.subarray([...bags]), fc.array(number), (expected, read) => {
      const { here, missing, unusedLabels, unexpected, twice } = checkIn(expected, read)
      expect([...here.map((bag) => bag.number), ...missing, ...unusedLabels].sort()).toEqual(
        expected.map((bag) => bag.number).sort(),
      )
      expect([...here.map((bag) => bag.number), ...unexpected].sort()).toEqual([...new Set(read)].sort())
      expect(twice.every((one) => read.filter((other) => other === one).length > 1)).toBe(true)
    }),
  )
})
