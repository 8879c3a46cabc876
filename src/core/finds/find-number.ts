/** The parts of a find number CODE-YEAR-NNN. */
export interface FindNumber {
  /** The survey's code: a capital letter, then one to seven capitals or digits. */
  readonly code: string
  readonly year: number
  readonly running: number
}

const form = /^([A-Z][A-Z0-9]{1,7})-(\d{4})-(\d{3,9})$/

/** The parts of a find number, or null where the text is none. Case and spaces at the ends are not forgiven: a number is a name. */
export function parseFindNumber(text: string): FindNumber | null {
  const parts = form.exec(text)
  return parts === null ? null : { code: parts[1]!, year: Number(parts[2]), running: Number(parts[3]) }
}

/** `NST-2026-007`. Faults: RangeError where the parts make no find number. */
export function findNumberText({ code, year, running }: FindNumber): string {
  const text = `${code}-${String(year).padStart(4, '0')}-${String(running).padStart(3, '0')}`
  if (!form.test(text)) throw new RangeError(`no find number of ${code}, ${year}, ${running}`)
  return text
}
