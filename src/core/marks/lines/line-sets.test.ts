import { expect, test } from 'vitest'
import type { LineLookAlike } from './line-candidate.ts'
import { setsOf } from './line-sets.ts'
import type { MeasuredLine } from './measured-line.ts'

/** Along the columns, at so many pixels down. */
function line(
  from: number,
  to: number,
  down: number,
  rise = 0,
  tone: 'dark' | 'light' = 'dark',
): MeasuredLine {
  const xy = Float64Array.from([from, down, to, down + rise])
  const measured = { level: 0, width: 2.5, completeness: 1, contrast: 1, evenness: 1, logOdds: 10 }
  return { ...measured, tone, xy, length: Math.hypot(to - from, rise) }
}

// Pairs 8 pixels apart, every 80.
const wheels = [96, 104, 176, 184, 256, 264].map((down) => line(0, 300, down))

/** What a line is told to be beside lines that are told to be tramlines. */
function told(one: MeasuredLine, set = wheels): LineLookAlike | null {
  return setsOf([...set, one], [...set.map((): LineLookAlike => 'tramlines'), null]).at(-1) ?? null
}

test('a piece on a line of a set, or where the set would repeat, is of the set', () => {
  expect(told(line(340, 400, 104))).toBe('tramlines')
  expect(told(line(340, 400, 106, 1))).toBe('tramlines')
  expect(told(line(100, 160, 336))).toBe('tramlines')
  expect(told(line(100, 160, 344))).toBe('tramlines')
})

test('what lies between, runs another way, is of the other tone, bent, or far off is not', () => {
  for (const other of [
    line(100, 160, 140),
    line(100, 160, 216),
    line(100, 160, 336, 8),
    line(340, 400, 104, 0, 'light'),
    line(900, 960, 104),
    { ...line(340, 400, 104), length: 70 },
  ])
    expect(told(other)).toBeNull()
})

test('two lines are no set, and what is told already stays as it is', () => {
  expect(told(line(340, 400, 104), wheels.slice(0, 2))).toBeNull()
  expect(
    setsOf(
      wheels,
      wheels.map(() => 'tramlines' as const),
    ),
  ).toEqual(wheels.map(() => null))
})
