import { SurveyError } from '#core/faults'
import { findNumberText, parseFindNumber } from '#core/finds'
import { readLabelCode } from '#core/labels'
import type { CataloguedFind, SurveyFile } from '#store'

const anyNumber = /[A-Z][A-Z0-9]{1,7}-\d{4}-\d{3,9}/

/** The numbers a text may mean: the one in it, or, for a running number alone, that of each year, the latest first. */
function meant(text: string, code: string, years: readonly number[]): string[] {
  const whole = anyNumber.exec(text.toUpperCase())
  if (whole !== null) return [whole[0]]
  const running = /^\s*(?:no\.?\s*|#)?(\d{1,9})\s*$/i.exec(text)
  if (running === null) return []
  return years.map((year) => findNumberText({ code, year, running: Number(running[1]) }))
}

/**
 * The find that a text names: its number, the code of its label (which holds the number and the survey's UUID), or the running number alone, of the
 * latest year that has it. Faults: SurveyError 'not-found' with what is known of the number, 'bad-value' for a text that names none.
 */
export function findNamed(survey: SurveyFile, text: string): CataloguedFind {
  const { code, uuid, title } = survey.identity()
  const { catalogue } = survey
  const years = [...catalogue.lastNumbers().keys()].sort((a, b) => b - a)
  const numbers = meant(text, code, years)
  if (numbers.length === 0) {
    throw new SurveyError(
      'bad-value',
      `"${text.slice(0, 60)}" is no find number: scan the label, or write the number as ${code}-2026-007 or its last figures.`,
    )
  }
  const scanned = readLabelCode(text)
  if (scanned !== null && scanned.survey !== null && scanned.survey !== uuid) {
    throw new SurveyError('not-found', `${numbers[0]} is a label of another survey, not of ${title}.`)
  }
  for (const number of numbers) {
    const find = catalogue.withNumber(number)
    if (find !== null) return find
  }
  throw new SurveyError('not-found', reason(survey, numbers[0]!, code))
}

function reason({ catalogue }: SurveyFile, number: string, code: string): string {
  const parts = parseFindNumber(number)
  const note = catalogue.numberNotes().find((one) => one.number === number)
  if (note?.state === 'label') return `${number} is on a blank label; no find has been entered under it yet.`
  if (note?.state === 'void') return `${number} was struck out: ${note.note ?? 'no reason was given'}.`
  const lost = catalogue.lostNumbers().get(number)
  if (lost) return `${number} is no longer in the survey: ${lost.what}.`
  if (parts !== null && parts.code !== code) return `${number} is a number of another survey (${parts.code}).`
  return `No find has the number ${number}.`
}
