import { type PlanarArea, ringArea } from './polygon.ts'
import { type RingMeeting, ringMeetings } from './ring-meetings.ts'

/** Something wrong with an area as drawn or read. Sums still give an answer, by the even-odd rule. */
export interface AreaFlaw {
  readonly kind: 'no-ground' | 'crosses-itself' | 'rings-cross' | 'parts-overlap'
  /** Where, in the area's grid, metres. */
  readonly x: number
  readonly y: number
  /** Index of the polygon in the area. */
  readonly polygon: number
  /** One sentence with the place in it. */
  readonly text: string
}

/**
 * Flaws of an area: rings that enclose no ground, rings that cross or touch themselves, rings of one polygon that cross
 * each other, and polygons whose outlines cross. A hole that touches its outline in a point, and two polygons that share an
 * edge, are sound. A hole that strays out of its outline exactly through corners is not noticed.
 *
 * CRS     any planar grid, metres.
 * Cost    about 0.3 s for an outline of 100,000 corners; seconds where as many edges lie side by side (a star of
 *         100,000 spikes takes 3 s), see `ringMeetings`. At most `most` flaws are told.
 */
export function validateArea(area: PlanarArea, most = 20): AreaFlaw[] {
  const rings = area.polygons.flatMap((polygon) => polygon.rings)
  const polygonOf = area.polygons.flatMap((polygon, i) => polygon.rings.map(() => i))
  // A place may be found twice and sound meetings are found too, so more are asked for than are told.
  const meetings = ringMeetings(rings, 1000 + 50 * most)
  const crossed = new Set(
    meetings.filter(({ how }) => how === 'crossing').flatMap((meeting) => meeting.rings),
  )
  const flaws: AreaFlaw[] = []
  const empty = new Set<number>()
  rings.forEach((ring, r) => {
    // A figure of eight may add up to 0 as well, but there the crossing is what is wrong.
    if (ringArea(ring) !== 0 || crossed.has(r)) return
    empty.add(r)
    const [x, y] = [ring[0] ?? Number.NaN, ring[1] ?? Number.NaN]
    const text = `The outline at ${place(x, y)} encloses no ground.`
    flaws.push({ kind: 'no-ground', x, y, polygon: polygonOf[r]!, text })
  })
  const told = new Set<string>()
  for (const meeting of meetings) {
    const flaw = meeting.rings.some((r) => empty.has(r)) ? null : flawOf(meeting, polygonOf)
    if (flaw === null || told.has(flaw.text)) continue
    told.add(flaw.text)
    flaws.push(flaw)
  }
  return flaws.slice(0, most)
}

function flawOf({ x, y, how, rings }: RingMeeting, polygonOf: readonly number[]): AreaFlaw | null {
  const polygon = polygonOf[rings[0]]!
  const at = place(x, y)
  if (rings[0] === rings[1]) {
    const does =
      how === 'crossing' ? 'crosses itself' : how === 'touch' ? 'touches itself' : 'runs back along itself'
    return { kind: 'crosses-itself', x, y, polygon, text: `The outline ${does} at ${at}.` }
  }
  if (polygon === polygonOf[rings[1]]) {
    if (how === 'touch') return null
    const text = `Two rings of one polygon ${how === 'crossing' ? 'cross' : 'share an edge'} at ${at}.`
    return { kind: 'rings-cross', x, y, polygon, text }
  }
  if (how !== 'crossing') return null
  return { kind: 'parts-overlap', x, y, polygon, text: `Two parts of the area overlap at ${at}.` }
}

function place(x: number, y: number): string {
  return `easting ${x.toFixed(2)}, northing ${y.toFixed(2)}`
}
