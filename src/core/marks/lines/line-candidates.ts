import { type FalseAlarmCurve, falseAlarmsPerMpx } from '../ground/false-alarms.ts'
import { distinctLines } from './distinct-lines.ts'
import { enclosures, type MeasuredEnclosure } from './enclosures.ts'
import type { LineCandidate, LineLookAlike, LineSettings } from './line-candidate.ts'
import { companyOf, type LineCompany } from './line-company.ts'
import { setsOf } from './line-sets.ts'
import type { MeasuredLine } from './measured-line.ts'

/** Contrast against the lesser side below this share of the mean of both: a step between two grounds, not a line. */
const leastEvenness = 0.35
/** What may be of our own day counts for less when candidates are put in order, and comes after all else that bare ground gives no more often than this, a million pixels. */
const doubted = 0.25
const outstandingRate = 1
/** Lines that chance gives more often than this, a million pixels, are no company: bare ground has thousands of them. */
const companyRate = 3
/** A line is a side of an enclosure where so much of it lies on that, by length. */
const sideShare = 0.6

/**
 * Candidates of what was measured at all levels, best first. An enclosure stands for its sides. Bare ground has hardly ever one, so their rate cannot be counted: it is no greater than
 * that of the best of the lines that make it.
 */
export function lineCandidates(
  measured: readonly MeasuredLine[],
  curves: readonly FalseAlarmCurve[],
  { most, pixelM }: LineSettings,
): LineCandidate[] {
  const rate = ({ logOdds }: MeasuredLine): number =>
    // Every level is one more chance of a false alarm.
    curves.reduce((sum, curve) => sum + falseAlarmsPerMpx(curve, logOdds), 0)
  const lines = distinctLines(measured)
  // They stand best first, so the company of the first ones is in the same order.
  const company = companyOf(
    lines.filter((line) => rate(line) <= companyRate),
    pixelM ?? null,
  )
  const ofSets = setsOf(
    lines,
    lines.map((_, i) => company[i]?.mayBe[0] ?? null),
  )
  const doubts = new Map(lines.map((line, i) => [line, doubtsOf(line, company[i], ofSets[i] ?? null)]))
  const made = enclosures(lines).filter(({ sides }) =>
    sides.every(({ line }) => doubts.get(line)!.length === 0),
  )
  const sides = new Set(made.flatMap(ownSides))
  // Lines stand best first.
  const leastOutstanding = lines.findLast((line) => rate(line) <= outstandingRate)?.logOdds ?? 0
  const ranked = [
    ...made.map((enclosure) => ({
      rank: enclosure.logOdds,
      candidate: ofEnclosure(enclosure, Math.min(...enclosure.sides.map(({ line }) => rate(line)))),
    })),
    ...lines.flatMap((line, i) => {
      if (sides.has(line)) return []
      const mayBe = doubts.get(line)!
      const candidate = ofLine(line, company[i]?.pairSpacing ?? null, mayBe, rate(line))
      const rank = mayBe.length === 0 ? line.logOdds : Math.min(doubted * line.logOdds, leastOutstanding)
      return [{ rank, candidate }]
    }),
  ]
  return ranked
    .sort((a, b) => b.rank - a.rank)
    .slice(0, most)
    .map(({ candidate }) => candidate)
}

function doubtsOf(
  { evenness }: MeasuredLine,
  company: LineCompany | undefined,
  ofSet: LineLookAlike | null,
): LineLookAlike[] {
  const mayBe = [...(company?.mayBe ?? []), ...(ofSet ? [ofSet] : [])]
  return evenness < leastEvenness ? [...mayBe, 'field edge'] : mayBe
}

/** Lines that an enclosure stands for: those that lie on it in the main. */
function ownSides({ sides }: MeasuredEnclosure): MeasuredLine[] {
  const on = new Map<MeasuredLine, number>()
  for (const { line, length } of sides) on.set(line, (on.get(line) ?? 0) + length)
  return [...on].flatMap(([line, length]) => (length >= sideShare * line.length ? [line] : []))
}

function ofLine(
  { xy, length, width, tone, completeness, contrast }: MeasuredLine,
  pairSpacing: number | null,
  mayBe: readonly LineLookAlike[],
  rate: number,
): LineCandidate {
  return {
    kind: 'line',
    xy,
    length,
    width,
    tone,
    completeness,
    contrast,
    pairSpacing,
    mayBe,
    falseAlarmsPerMpx: rate,
  }
}

/** Width and contrast are means over the sides, by length. */
function ofEnclosure({ xy, sides, length, completeness }: MeasuredEnclosure, rate: number): LineCandidate {
  const total = sides.reduce((sum, side) => sum + side.length, 0)
  const mean = (of: (line: MeasuredLine) => number): number =>
    sides.reduce((sum, side) => sum + side.length * of(side.line), 0) / total
  return {
    kind: 'enclosure',
    xy,
    length,
    width: mean(({ width }) => width),
    tone: sides[0]!.line.tone,
    completeness,
    contrast: mean(({ contrast }) => contrast),
    pairSpacing: null,
    mayBe: [],
    falseAlarmsPerMpx: rate,
  }
}
