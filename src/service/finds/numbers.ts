import type { Numbers } from '#contract'
import { findNumberText, parseFindNumber } from '#core/finds'
import type { FindCatalogue } from '#store'

/** The most numbers without a find that are told one by one. */
const mostGaps = 5000

/** Which numbers were given out, which of them no find bears, and why. Cost: the finds and the numbers, once. */
export function numbersOf(catalogue: FindCatalogue, code: string, year: number): Numbers {
  const borne = new Set(catalogue.light(null).map(({ cells }) => String(cells[1] ?? '')))
  const notes = new Map(catalogue.numberNotes().map((note) => [note.number, note]))
  const lost = catalogue.lostNumbers()
  const last = new Map(catalogue.lastNumbers())
  for (const number of borne) {
    const parts = parseFindNumber(number)
    if (parts?.code === code) last.set(parts.year, Math.max(last.get(parts.year) ?? 0, parts.running))
  }
  const gaps: Numbers['gaps'] = []
  const years: Numbers['years'] = []
  for (const [each, highest] of [...last].sort(([a], [b]) => a - b)) {
    let used = 0
    for (let running = 1; running <= highest; running++) {
      const number = findNumberText({ code, year: each, running })
      if (borne.has(number)) used += 1
      else if (gaps.length < mostGaps) gaps.push({ number, ...why(number) })
    }
    years.push({ year: each, last: highest, used })
  }
  return { years, gaps, next: findNumberText({ code, year, running: (last.get(year) ?? 0) + 1 }) }

  function why(number: string): Omit<Numbers['gaps'][number], 'number'> {
    const note = notes.get(number)
    if (note?.state === 'void') return { state: 'void', why: note.note ?? 'struck out' }
    if (note) return { state: 'label', why: note.note ?? 'blank label' }
    const was = lost.get(number)
    if (was) return { state: 'lost', why: was.what }
    return { state: 'unknown', why: 'passed over, or its giving out was undone' }
  }
}
