import { type Period, plainName } from './periods.ts'
import { type Span, yearAt, yearIndex } from './years.ts'

type Era = 'BC' | 'AD'

/** What one side of a range, or a date that is no range, was read as. */
export interface Atom {
  readonly span: Span
  /** The era if it was written; null where it was not. */
  readonly era: Era | null
  readonly century: boolean
  readonly period: Period | null
  /** A bare year, of which a range may leave out the leading figures. */
  readonly year: number | null
  readonly assumed: readonly string[]
}

/** What the other side of a range lends to this one. */
export interface Lent {
  readonly era: Era | null
  readonly century: boolean
}

/** A sentence instead of a date. */
export interface Refusal {
  readonly refused: string
}

const words =
  'first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth twenty-first'.split(
    ' ',
  )

/**
 * Parts of a century or period by name, as the list of periods of Historic England cuts centuries: early is the first 32
 * years of a hundred, mid the next 34, late the last 34. Halves and quarters are plain fractions.
 */
const parts: Readonly<Record<string, readonly [number, number]>> = {
  early: [0, 0.32],
  mid: [0.32, 0.66],
  middle: [0.32, 0.66],
  late: [0.66, 1],
  'first half': [0, 0.5],
  'second half': [0.5, 1],
  'first quarter': [0, 0.25],
  'second quarter': [0.25, 0.5],
  'third quarter': [0.5, 0.75],
  'fourth quarter': [0.75, 1],
  'last quarter': [0.75, 1],
  'early to mid': [0, 0.66],
  'mid to late': [0.32, 1],
}

const partPattern = new RegExp(
  `^(early[- ](?:to )?mid|mid[- ](?:to )?late|${Object.keys(parts)
    .filter((part) => !part.includes(' to '))
    .join('|')})[ -](?:of the )?(.+)$`,
)
const yearPattern = /^(ad |bc )?(-)?(\d{1,3}(?:[, ]\d{3})+|\d{1,7})( ad| bc)?$/
const centuryPattern = /^(?:(\d{1,3})(?:st|nd|rd|th)?|([a-z-]+)) (century|cent|c|millennium)\.?( ad| bc)?$/
const shortCentury = /^c(\d{1,2})(?:st|nd|rd|th)?( ad| bc)?$/
const bareOrdinal = /^(\d{1,2})(?:st|nd|rd|th)$/
const circa = /^(?:c\.|ca\.?|circa|about|around|approx\.?|approximately|~) ?(.+)$/
const decade = /^(\d{3,4})s$/

const eraOf = (text: string | undefined): Era | null =>
  text === undefined ? null : (text.trim().toUpperCase() as Era)

const part = (span: Span, [low, high]: readonly [number, number]): Span => {
  const first = yearIndex(span.from)
  const years = yearIndex(span.to) - first + 1
  return { from: yearAt(first + Math.round(low * years)), to: yearAt(first + Math.round(high * years) - 1) }
}

const counted = (count: number, years: number, era: Era): Span =>
  era === 'AD'
    ? { from: (count - 1) * years + 1, to: count * years }
    : { from: -count * years, to: -(count - 1) * years - 1 }

/** `2nd`, `11th`. */
function ordinal(count: number): string {
  const ending = ['th', 'st', 'nd', 'rd'][Math.floor(count / 10) % 10 === 1 ? 0 : count % 10] ?? 'th'
  return `${count}${ending}`
}

/** Reads one side of a range from small letters with single spaces. Null where it is no date at all. */
export function dateAtom(
  text: string,
  periods: ReadonlyMap<string, Period>,
  lent: Lent,
): Atom | Refusal | null {
  const period = periods.get(plainName(text))
  if (period !== undefined) return ofPeriod(period, { from: period.from, to: period.to })
  return (
    century(text, lent) ??
    aboutYear(text, periods, lent) ??
    year(text, lent) ??
    ofDecade(text) ??
    partOf(text, periods, lent)
  )
}

const ofPeriod = (period: Period, span: Span, assumed: readonly string[] = []): Atom => ({
  span,
  era: span.to < 0 ? 'BC' : 'AD',
  century: false,
  period,
  year: null,
  assumed,
})

function century(text: string, lent: Lent): Atom | Refusal | null {
  const long = centuryPattern.exec(text)
  const short = shortCentury.exec(text) ?? (lent.century ? bareOrdinal.exec(text) : null)
  const figures = long?.[1] ?? short?.[1]
  const count = figures === undefined ? words.indexOf(long?.[2] ?? '') + 1 : Number(figures)
  if (long === null && (short === null || count > 21)) return null
  if (long !== null && figures === undefined && count === 0) return null
  const years = long?.[3] === 'millennium' ? 1000 : 100
  const stated = eraOf(long?.[4] ?? short?.[2])
  const era = stated ?? lent.era ?? 'AD'
  if (count === 0)
    return { refused: 'There is no century 0: the 1st century BC is followed by the 1st century AD.' }
  if (era === 'AD' && count * years > 3000)
    return { refused: `A ${ordinal(count)} century lies in the future.` }
  const told = stated === null && lent.era === null ? ['The century was taken to be AD.'] : []
  return {
    span: counted(count, years, era),
    era: stated,
    century: true,
    period: null,
    year: null,
    assumed: told,
  }
}

function year(text: string, lent: Lent): Atom | Refusal | null {
  const found = yearPattern.exec(text)
  if (found === null || (found[1] !== undefined && found[4] !== undefined)) return null
  const figure = Number(found[3]!.replace(/[, ]/g, ''))
  const stated = found[2] === undefined ? eraOf(found[1] ?? found[4]) : 'BC'
  if (found[2] !== undefined && (found[1] ?? found[4]) !== undefined) return null
  const era = stated ?? lent.era ?? 'AD'
  if (figure === 0) {
    return { refused: 'There is no year 0: 1 BC is followed by AD 1. Write one of them.' }
  }
  if (era === 'AD' && figure > 2100)
    return { refused: `AD ${figure} lies in the future; write BC if that is meant.` }
  if (era === 'BC' && figure > 3_000_000) return { refused: `${figure} BC is before people.` }
  const value = era === 'BC' ? -figure : figure
  const assumed = stated === null && lent.era === null ? ['The year was taken to be AD.'] : []
  return { span: { from: value, to: value }, era: stated, century: false, period: null, year: value, assumed }
}

/** Years to both sides that "about" adds: common practice, told in the answer so that a person may narrow it. */
const aboutYears = { BC: 100, AD: 25 }

function aboutYear(text: string, periods: ReadonlyMap<string, Period>, lent: Lent): Atom | Refusal | null {
  const found = circa.exec(text) ?? /^c ?()(\d.*)$/.exec(text)
  if (found === null) return null
  const rest = found[2] ?? found[1]!
  if (/^\d{1,2}$/.test(rest) && Number(rest) <= 21 && /^c/.test(text)) {
    return {
      refused: `“${text}” may be a century or a year: write “${ordinal(Number(rest))} century” or “about AD ${rest}”.`,
    }
  }
  const inner = dateAtom(rest, periods, lent)
  if (inner === null || 'refused' in inner) return inner
  if (inner.year === null) return inner
  const by = inner.year < 0 ? aboutYears.BC : aboutYears.AD
  const index = yearIndex(inner.year)
  return {
    ...inner,
    span: { from: yearAt(index - by), to: yearAt(index + by) },
    assumed: [...inner.assumed, `About was taken as ${by} years to both sides.`],
  }
}

function ofDecade(text: string): Atom | Refusal | null {
  const found = decade.exec(text)
  if (found === null) return null
  const first = Number(found[1])
  if (first % 100 === 0) {
    return {
      refused: `“${text}” may be ten years or a hundred: write ${first}-${first + 9} or ${first}-${first + 99}.`,
    }
  }
  if (first % 10 !== 0) return null
  return {
    span: { from: first, to: first + 9 },
    era: 'AD',
    century: false,
    period: null,
    year: null,
    assumed: [],
  }
}

function partOf(text: string, periods: ReadonlyMap<string, Period>, lent: Lent): Atom | Refusal | null {
  const found = partPattern.exec(text)
  if (found === null) return null
  const name = found[1]!.replace(/^(early|mid)[- ](?:to )?(mid|late)$/, '$1 to $2')
  const whole = dateAtom(found[2]!, periods, lent)
  if (whole === null || 'refused' in whole) return whole
  if (whole.year !== null) return null
  const share = parts[name]!
  const assumed = whole.period === null ? [] : [`${name} was taken as a share of the whole period.`]
  return { ...whole, span: part(whole.span, share), assumed: [...whole.assumed, ...assumed] }
}
