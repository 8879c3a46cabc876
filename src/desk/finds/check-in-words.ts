import type { FindRow } from '#contract'
import type { ExpectedBag } from '#core/finds'
import { readLabelCode } from '#core/labels'

/** Days on which something was found, the latest first, with how many finds. */
export function foundDays(rows: readonly FindRow[]): (readonly [day: string, finds: number])[] {
  const days = new Map<string, number>()
  for (const { foundAt } of rows) {
    if (foundAt === null) continue
    const day = foundAt.slice(0, 10)
    days.set(day, (days.get(day) ?? 0) + 1)
  }
  return [...days].sort(([a], [b]) => (a < b ? 1 : -1))
}

/** The number that a scanned or typed text means: whole, or the last figures of one that is expected. */
export function numberRead(text: string, expected: readonly ExpectedBag[]): string {
  const code = readLabelCode(text)
  if (code) return code.number
  const figures = /^#?(\d{1,9})$/.exec(text.trim())?.[1]
  const running = Number(figures)
  const meant = expected.find(
    ({ number }) => figures !== undefined && Number(number.split('-')[2]) === running,
  )
  return meant?.number ?? text.trim().toUpperCase()
}
