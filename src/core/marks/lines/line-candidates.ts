import { type FalseAlarmCurve, falseAlarmsPerMpx } from '../ground/false-alarms.ts'
import { distinctLines } from './distinct-lines.ts'
import type { LineCandidate, LineLookAlike, LineSettings } from './line-candidate.ts'
import type { MeasuredLine } from './measured-line.ts'

/** How often bare ground gives a line at one level. */
export interface LineCurve {
  readonly level: number
  readonly curve: FalseAlarmCurve
}

/** Contrast against the lesser side below this share of the mean of both: a step between two grounds, not a line. */
const leastEvenness = 0.35
/** What may be of our own day counts for less when candidates are put in order. */
const doubted = 0.25

/** Candidates of what was measured at all levels, best first. */
export function lineCandidates(
  measured: readonly MeasuredLine[],
  curves: readonly LineCurve[],
  { most }: LineSettings,
): LineCandidate[] {
  return distinctLines(measured)
    .map((line) => {
      const mayBe: LineLookAlike[] = line.evenness < leastEvenness ? ['field edge'] : []
      return { ...line, mayBe, rank: line.logOdds * (mayBe.length > 0 ? doubted : 1) }
    })
    .sort((a, b) => b.rank - a.rank)
    .slice(0, most)
    .map(
      ({ xy, length, width, tone, completeness, contrast, logOdds, mayBe }): LineCandidate => ({
        kind: 'line',
        xy,
        length,
        width,
        tone,
        completeness,
        contrast,
        pairSpacing: null,
        mayBe,
        // Every level is one more chance of a false alarm.
        falseAlarmsPerMpx: curves.reduce((sum, { curve }) => sum + falseAlarmsPerMpx(curve, logOdds), 0),
      }),
    )
}
