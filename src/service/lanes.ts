import { type LaneFigures, type LaneLight, type LaneWishesGiven, laneWishesShape } from '#contract'
import { SurveyError } from '#core/faults'
import { type PlanarGrid, utmEpsg } from '#core/geodesy'
import { areaBounds, type PlanarArea, polygonArea } from '#core/geometry'
import {
  type LanePlan,
  type LaneShare,
  lanePlan,
  type Pace,
  shareLanes,
  spiralPlan,
  usualPace,
  walkTime,
} from '#core/lanes'
import { type Crossing, dayLight } from '#core/light'

/** Lanes of an area, shared out, with their account. */
export interface LanesOf {
  readonly plan: LanePlan
  readonly shares: readonly LaneShare[]
  readonly figures: LaneFigures
}

/**
 * Lanes of an area as they are wished for, with their account.
 *
 * CRS     the area in `grid`, metres.
 * Faults  SurveyError 'no-area', 'area-invalid', 'setting-out-of-range', 'outside-grid'; a ZodError for wishes of the wrong shape.
 */
export function lanesOf(area: PlanarArea, grid: PlanarGrid, given: LaneWishesGiven): LanesOf {
  const wishes = laneWishesShape.parse(given)
  const { spacingM, bearing, pattern, walkers, from, radiusM } = wishes
  checkReach(area, grid)
  const plan =
    pattern === 'spiral'
      ? spiralPlan(area, { spacingM, centre: from ?? middleOf(area), radiusM })
      : lanePlan(area, { spacingM, bearing, edges: pattern === 'parallel', from })
  const shares = shareLanes(plan, walkers)
  return { plan, shares, figures: figuresOf(area, grid, plan, shares, wishes) }
}

function figuresOf(
  area: PlanarArea,
  grid: PlanarGrid,
  plan: LanePlan,
  shares: readonly LaneShare[],
  {
    spacingM,
    pattern,
    pace = usualPace,
  }: { spacingM: number; pattern: LaneFigures['pattern']; pace?: Pace | undefined },
): LaneFigures {
  const times = shares.map((share) => walkTime(share, pace))
  const longest = times.reduce((most, time) => (time.totalS > most.totalS ? time : most), times[0]!)
  const sum = (of: (share: LaneShare) => number): number => shares.reduce((all, share) => all + of(share), 0)
  const betweenM = sum(({ wayM }) => wayM)
  const outsideM = sum((share) => share.outsideM)
  const idle = shares.filter(({ from, to }) => from === to).length
  return {
    lanes: plan.laneM.length,
    lengthM: plan.lengthM,
    turns: sum(({ turns }) => turns),
    bearing: numberOrNull(plan.bearing),
    betweenM,
    outsideM,
    hours: longest.totalS / 3600,
    restHours: longest.restS / 3600,
    areaM2: area.polygons.reduce((all, polygon) => all + polygonArea(polygon), 0),
    spacingM,
    pattern,
    parts: plan.pieces.map((piece) => ({ ...piece, bearing: numberOrNull(piece.bearing) })),
    walkers: shares.map(({ from, to, lengthM, wayM, outsideM: outside, turns }, w) => ({
      from,
      to,
      lanes: to - from,
      lengthM,
      betweenM: wayM,
      outsideM: outside,
      turns,
      hours: times[w]!.totalS / 3600,
    })),
    notes: [
      ...plan.notes,
      ...(outsideM > 0.5
        ? [
            `${outsideM.toFixed(0)} m of the walk between lanes lies off the search area, for its parts lie apart: make sure that you may walk there.`,
          ]
        : []),
      ...(idle > 0
        ? [`There are more walkers than lanes: ${idle} of them ${idle === 1 ? 'has' : 'have'} none.`]
        : []),
      ...zoneNote(area, grid),
    ],
  }
}

const numberOrNull = (value: number): number | null => (Number.isNaN(value) ? null : value)

function middleOf(area: PlanarArea): [number, number] {
  const { minX, minY, maxX, maxY } = areaBounds(area)
  return [(minX + maxX) / 2, (minY + maxY) / 2]
}

function checkReach({ polygons }: PlanarArea, { name }: PlanarGrid): void {
  if (polygons.some(({ rings }) => rings.some((ring) => ring.some(Number.isNaN))))
    throw new SurveyError(
      'outside-grid',
      `The search area reaches beyond ${name}, the grid of its first corner; split it, or check its corners.`,
    )
}

/** An area over a zone's edge is worked in the zone of its first corner: what that costs is said. */
function zoneNote(area: PlanarArea, grid: PlanarGrid): string[] {
  if (!/UTM/.test(grid.name)) return []
  const { minX, minY, maxX, maxY } = areaBounds(area)
  const corners = Float64Array.of(minX, minY, maxX, minY, maxX, maxY, minX, maxY)
  const lonLat = new Float64Array(8)
  grid.inverse(corners, lonLat)
  const zones = new Set([0, 2, 4, 6].map((i) => utmEpsg(lonLat[i]!, lonLat[i + 1]!) % 100))
  if (zones.size < 2) return []
  const off = Math.max(Math.abs(minX - 500_000), Math.abs(maxX - 500_000)) / 6_378_137
  // Scale of transverse Mercator by its distance from the central meridian, to second order.
  const scale = 0.9996 * (1 + off * off * 0.5)
  return [
    `The area reaches over more than one UTM zone (${[...zones].join(', ')}); all of it was worked in ${grid.name}, where lengths are up to ${(1000 * Math.max(Math.abs(scale - 1), 0.0004)).toFixed(1)} m in a kilometre off.`,
  ]
}

/**
 * The light of a day (YYYY-MM-DD) at the middle of an area, and whether `hours` of walking fit between civil dawn and dusk.
 * Faults: SurveyError('bad-value') for a day that is none.
 */
export function lightOn(day: string, area: PlanarArea, grid: PlanarGrid, hours: number): LaneLight {
  const start = /^\d{4}-\d\d-\d\d$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : Number.NaN
  if (Number.isNaN(start) || !new Date(start).toISOString().startsWith(day))
    throw new SurveyError('bad-value', `"${day}" is not a day; give it as 2026-11-25.`)
  const middle = Float64Array.from(middleOf(area))
  grid.inverse(middle, middle)
  const { sun, civil } = dayLight(start / 1000, middle[0]!, middle[1]!)
  const light = civil.kind === 'above' ? 24 : civil.kind === 'below' ? 0 : (civil.set - civil.rise) / 3600
  return { day, sun: told(sun), civil: told(civil), hours: light, fits: hours <= light }
}

function told(crossing: Crossing): LaneLight['sun'] {
  if (crossing.kind !== 'crosses') return { rise: null, set: null, all: crossing.kind }
  const text = (seconds: number): string => new Date(1000 * Math.round(seconds)).toISOString()
  return { rise: text(crossing.rise), set: text(crossing.set), all: null }
}
