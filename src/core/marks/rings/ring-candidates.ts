import type { RingCandidate, RingGap, RingSettings } from '../candidate.ts'
import { distinctRings } from '../distinct-rings.ts'
import { type FalseAlarmCurve, falseAlarmsPerMpx } from '../ground/false-alarms.ts'
import { chance } from './ring-score.ts'
import type { MeasuredRing } from './ring-search.ts'

/** Candidates of what was measured, best first: of those that lie on one another the best, within the range of diameters, the `most` best. */
export function ringCandidates(
  measured: readonly MeasuredRing[],
  curves: readonly FalseAlarmCurve[],
  { minDiameterPx, maxDiameterPx, most }: RingSettings,
): RingCandidate[] {
  const slack = 1.05
  return distinctRings(measured)
    .filter(({ diameter }) => diameter >= minDiameterPx / slack && diameter <= maxDiameterPx * slack)
    .slice(0, most)
    .map((ring): RingCandidate => {
      const seen = ring.seen.reduce((sum, each) => sum + each, 0)
      return {
        x: ring.x,
        y: ring.y,
        diameter: ring.diameter,
        ditchWidth: ring.ditchWidth,
        tone: ring.tone,
        completeness: seen / ring.seen.length,
        gaps: gapsOf(ring.seen),
        ellipticity: ring.ellipticity,
        contrast: ring.contrast,
        score: chance(ring.logOdds),
        // Every level and tone is one more chance of a false alarm.
        falseAlarmsPerMpx: curves.reduce((sum, curve) => sum + falseAlarmsPerMpx(curve, ring.logOdds), 0),
      }
    })
}

/** Runs of arcs that are not seen, bearings clockwise from up. */
function gapsOf(seen: Uint8Array): RingGap[] {
  const count = seen.length
  const step = 360 / count
  const first = seen.indexOf(1)
  if (first < 0) return [{ fromDeg: 0, toDeg: 360 }]
  const gaps: RingGap[] = []
  for (let i = 1; i <= count; i++) {
    const at = first + i
    if (seen[at % count] === 1 || seen[(at - 1) % count] === 0) continue
    let end = at
    while (seen[end % count] === 0) end++
    const turns = at >= count ? 360 : 0
    gaps.push({ fromDeg: at * step - turns, toDeg: end * step - turns })
    i = end - first
  }
  return gaps
}
