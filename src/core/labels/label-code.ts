import { parseFindNumber } from '#core/finds'

/** What the code on a label holds. */
export interface LabelCode {
  readonly number: string
  /** UUID of the survey, in small letters with hyphens; null for a number typed by hand. */
  readonly survey: string | null
}

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/
const written = /^([A-Z][A-Z0-9]{1,7}-\d{4}-\d{3,9}) ([0-9A-F]{32})$/

/**
 * The text in a label's code: number, blank, survey UUID as 32 capital hex figures. Capitals and figures are what Data Matrix
 * and QR pack tightest: a square of 24 modules, or 29.
 *
 * Faults  RangeError where the number is no find number or the survey no UUID.
 *
 * @example labelCodeText({ number: 'NST-2026-007', survey: '6f1c0a1e-8d3b-4a52-9c77-0e4f5b6a7d81' }) // NST-2026-007 6F1C0A1E8D3B4A529C770E4F5B6A7D81
 */
export function labelCodeText({ number, survey }: LabelCode & { readonly survey: string }): string {
  if (parseFindNumber(number) === null) throw new RangeError(`“${number}” is no find number`)
  if (!uuid.test(survey)) throw new RangeError(`“${survey}” is no UUID`)
  return `${number} ${survey.replaceAll('-', '').toUpperCase()}`
}

/** What a scanned code or a typed number says; null where it is neither. A typed number may be in small letters, with blanks at its ends. */
export function readLabelCode(text: string): LabelCode | null {
  const found = written.exec(text.trim())
  if (found !== null) {
    const parts = /^(.{8})(.{4})(.{4})(.{4})(.{12})$/.exec(found[2]!.toLowerCase())!
    return { number: found[1]!, survey: parts.slice(1).join('-') }
  }
  const typed = text.trim().toUpperCase()
  return parseFindNumber(typed) === null ? null : { number: typed, survey: null }
}
