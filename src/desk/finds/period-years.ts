import type { FindRow } from '#contract'
import type { DateParser } from '#core/dating'

/** Finds of one period that have no years yet, with the years that the period has. */
export interface PeriodYears {
  readonly period: string
  readonly from: number
  readonly to: number
  readonly ids: readonly number[]
}

/** Finds that name a period but no year, by period; a period whose years are not known, or open at an end, is left out. */
export function periodYears(rows: readonly FindRow[], readDate: DateParser): PeriodYears[] {
  const byPeriod = new Map<string, number[]>()
  for (const { id, period, fromYear, toYear } of rows) {
    if (period === '' || fromYear !== null || toYear !== null) continue
    const ids = byPeriod.get(period)
    if (ids === undefined) byPeriod.set(period, [id])
    else ids.push(id)
  }
  return [...byPeriod].flatMap(([period, ids]) => {
    const read = readDate(period)
    if ('refused' in read || read.from === null || read.to === null) return []
    return [{ period, from: read.from, to: read.to, ids }]
  })
}
