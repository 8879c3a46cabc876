import { expect, test } from 'vitest'
import type { FindRow } from '#contract'
import { broadPeriods, dateParser } from '#core/dating'
import { periodYears } from './period-years.ts'

const row = (id: number, period: string, fromYear: number | null = null) =>
  ({ id, period, fromYear, toYear: null }) as FindRow

test('finds that name a period and no year get its years; what is unknown or dated is left alone', () => {
  const rows = [
    row(1, 'Roman'),
    row(2, 'Roman'),
    row(3, 'Roman', 100),
    row(4, ''),
    row(5, 'odd'),
    row(6, 'post-medieval'),
  ]
  // Bounds of the broad periods of England: common practice.
  expect(periodYears(rows, dateParser(broadPeriods))).toEqual([
    { period: 'Roman', from: 43, to: 409, ids: [1, 2] },
    { period: 'post-medieval', from: 1540, to: 1900, ids: [6] },
  ])
})
