import type { Certainty } from '#core/finds'
import { type Atom, dateAtom, type Lent, type Refusal } from './date-atom.ts'
import { type Period, periodsByName } from './periods.ts'
import { isYear, yearText } from './years.ts'

/** A date as read. An end that was left open ("before", "after") is null. */
export interface DateReading {
  readonly from: number | null
  readonly to: number | null
  /** Said by words such as probably, possibly or a question mark; null where nothing was said. */
  readonly certainty: Certainty | null
  /** The period named, if just one was. */
  readonly period: Period | null
  /** One sentence for each thing that was not written and had to be taken. */
  readonly assumed: readonly string[]
}

export type DateAnswer = DateReading | Refusal

/** Turns text to dates with one set of periods; the names are looked up once for many texts. */
export type DateParser = (text: string) => DateAnswer

const nothing: Lent = { era: null, century: false }
const separators = / (?:to|until|or|and) |\s*[-/]\s*/g

/**
 * A reader of dates as people write them: `1200 BC`, `-1200`, `AD 43-410`, `C4`, `late 2nd century`, `c. 1650`,
 * `16th-17th century`, `1650-80`, `1880s`, `before 800 BC`, `Iron Age`, `Roman, 2nd century`, `Iron Age to Roman`, `Roman?`, `probably medieval`.
 *
 * A text that may mean two things is refused with a sentence that asks (`1700s`, `c. 4`, `1200-800`), and so is year 0.
 * Whatever was taken without being written is told in `assumed`. Radiocarbon years (BP) are refused: they need calibrating.
 *
 * Cost  microseconds a text.
 *
 * @example dateParser(broadPeriods)('late 2nd century') // { from: 167, to: 200, certainty: null, … }
 */
export function dateParser(periods: readonly Period[]): DateParser {
  const byName = periodsByName(periods)
  return (text) => {
    if (text.length > 200) return { refused: 'A date is shorter than 200 characters.' }
    const { certainty, rest } = certaintyIn(plain(text))
    if (rest === '') return { refused: 'There is no date in it.' }
    if (/\d ?(?:cal ?)?bp\b/.test(rest)) {
      return {
        refused: 'Years BP are radiocarbon years, which need calibrating: write calendar years BC or AD.',
      }
    }
    const read = openEnded(rest, byName) ?? rangeOrAtom(rest, byName) ?? narrowed(rest, byName)
    if (read === null)
      return {
        refused: `“${text.trim()}” is no date that is understood: write years, such as 120 BC or AD 43-410.`,
      }
    return 'refused' in read ? read : { ...read, certainty }
  }
}

type Bare = Omit<DateReading, 'certainty'>

function plain(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[‐-―−]/g, '-')
    .replace(/\bb\.? ?c\.?(?: ?e\.?)?(?![a-z])/g, ' bc ')
    .replace(/\ba\.? ?d\.?(?![a-z])|\bc\.? ?e\.?(?![a-z])/g, ' ad ')
    .replace(/(\d)(?=bc\b|ad\b)|(?<=\d)(bce?|ce|ad)\b/g, (all, digit: string | undefined) =>
      digit === undefined ? ` ${all.startsWith('bc') ? 'bc' : 'ad'} ` : `${digit} `,
    )
    .replace(/\b(ad|bc)(?=\d)/g, '$1 ')
    .replace(/[([;]/g, ', ')
    .replace(/[)\]]/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^(?:date[ds]?|period|year)(?: to)?:? /, '')
    .trim()
}

const said: readonly (readonly [RegExp, Certainty])[] = [
  [/\b(?:possibly|perhaps|maybe|possible)\b|\?+/g, 'possible'],
  [/\b(?:probably|probable|prob\.|likely)(?= |$)/g, 'probable'],
  [/\b(?:certainly|certain|definitely)\b/g, 'certain'],
]

function certaintyIn(text: string): { readonly certainty: Certainty | null; readonly rest: string } {
  for (const [pattern, certainty] of said) {
    const rest = text.replace(pattern, ' ').replace(/\s+/g, ' ').trim()
    if (rest !== text) return { certainty, rest: withoutCommas(rest) }
  }
  return { certainty: null, rest: withoutCommas(text) }
}

const withoutCommas = (text: string): string => text.replace(/^[ ,]+|[ ,]+$/g, '')

/** `Roman, 2nd century` or `medieval (1250-1300)`: a wide date and a narrow one inside it, of which the narrow one counts. */
function narrowed(text: string, byName: ReadonlyMap<string, Period>): Bare | Refusal | null {
  const parts = text.split(/ ?, +/)
  if (parts.length !== 2) return null
  const [first, second] = parts.map((part) => rangeOrAtom(part, byName)) as [Read, Read]
  if (first === null || second === null) return null
  if ('refused' in first) return first
  if ('refused' in second) return second
  const inside = (a: Bare, b: Bare): boolean => b.from! <= a.from! && a.to! <= b.to!
  const period = first.period ?? second.period
  const assumed = [...new Set([...first.assumed, ...second.assumed])]
  if (inside(second, first)) return { ...second, period, assumed }
  if (inside(first, second)) return { ...first, period, assumed }
  return {
    refused: `“${parts.join('” and “')}” are two dates, and neither lies within the other: write one.`,
  }
}

type Read = Bare | Refusal | null

function openEnded(text: string, byName: ReadonlyMap<string, Period>): Bare | Refusal | null {
  const found =
    /^(before|pre|until|up to|by|after|post|since|from)[ -](.+?)( or (?:later|earlier)| on(?:wards)?)?$/.exec(
      text,
    )
  if (found === null || byName.has(text.replace(/-/g, ' '))) return null
  const [, word, rest] = found
  if (word === 'from' && found[3] === undefined) return null
  const atom = dateAtom(rest!, byName, nothing)
  if (atom === null || 'refused' in atom) return atom
  const early = ['before', 'pre', 'until', 'up to', 'by'].includes(word!)
  const whole = ['until', 'up to', 'by', 'since', 'from'].includes(word!)
  const { from, to } = atom.span
  const bound = early ? (whole ? to : stepped(from, -1)) : whole ? from : stepped(to, 1)
  return { from: early ? null : bound, to: early ? bound : null, period: null, assumed: atom.assumed }
}

const stepped = (year: number, by: 1 | -1): number => (isYear(year + by) ? year + by : year + 2 * by)

function rangeOrAtom(text: string, byName: ReadonlyMap<string, Period>): Bare | Refusal | null {
  const whole = dateAtom(text, byName, nothing)
  if (whole !== null && !('refused' in whole))
    return { ...whole.span, period: whole.period, assumed: whole.assumed }
  let refusal = whole
  const bare = text.replace(/^(?:between|from) /, '')
  for (const found of bare.matchAll(separators)) {
    const left = bare.slice(0, found.index).trim()
    const right = bare.slice(found.index + found[0].length).trim()
    if (left === '' || right === '') continue
    const both = rangeOf(left, right, byName)
    if (both === null) continue
    if (!('refused' in both)) return both
    refusal ??= both
  }
  return refusal
}

function rangeOf(left: string, right: string, byName: ReadonlyMap<string, Period>): Bare | Refusal | null {
  const alone = dateAtom(right, byName, nothing)
  const lent: Lent =
    alone === null || 'refused' in alone ? nothing : { era: alone.era, century: alone.century }
  const first = dateAtom(left, byName, lent)
  if (first === null || 'refused' in first) return first
  const second = dateAtom(right, byName, {
    era: lent.era ?? first.era,
    century: lent.century || first.century,
  })
  if (second === null || 'refused' in second) return second
  if (first.era === 'BC' && first.year !== null && second.year !== null && second.era === null) {
    return { refused: 'The last year may be BC or AD: write which after it.' }
  }
  const end = shortened(first, second, right)
  if (first.span.from > end.span.to) {
    return {
      refused: `It runs backwards, from ${yearText(first.span.from)} to ${yearText(end.span.to)}: write BC if that is meant.`,
    }
  }
  const same = first.period !== null && first.period === end.period ? first.period : null
  const assumed = [...new Set([...first.assumed, ...end.assumed])]
  return { from: first.span.from, to: end.span.to, period: same, assumed }
}

/** `1650-80` means 1680, as its writer leaves out the figures that both years share. */
function shortened(first: Atom, second: Atom, right: string): Atom {
  const [from, to] = [first.year, second.year]
  if (from === null || to === null || !(to > 0) || to >= from || !/^\d{1,2}$/.test(right)) return second
  const base = 10 ** right.length
  const full = Math.floor(from / base) * base + to
  if (full <= from) return second
  return {
    ...second,
    span: { from: full, to: full },
    year: full,
    assumed: [...second.assumed, `${right} was taken as ${full}.`],
  }
}
