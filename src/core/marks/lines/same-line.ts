import { boundsOf, pointInPolygon, ringArea } from '#core/geometry'

/** A line or the outline of an enclosure as it was seen once: x and y in turn, metres of one plane. */
export interface LinePlace {
  readonly xy: Float64Array
  /** Of its ditch or bank, metres; null where nobody measured it. */
  readonly width: number | null
}

/** One line lies along another where it is no farther from it than the wider of both is wide, and this at the least, metres. */
const leastReachM = 1
/** Share of a line's length that lies along the other if both are one. */
const sameShare = 0.7
/** Ground that two enclosures share, over all that either holds, if both are one. */
const sameOverlap = 0.6
/** Places looked at along a line at most, and across the ground of two enclosures. */
const mostPlaces = 400
const overlapPlaces = 64

/**
 * True where two sightings are taken for one line: 70 % of the length of either lies along the other, no farther off than the wider
 * is wide (1 m at the least). So a piece is the same line as the whole, and the two lines of a pair, which run farther apart than
 * they are wide, stay two. A rule of our own. Cost: the product of their vertices, after a look at their bounds.
 */
export const isSameLine = (a: LinePlace, b: LinePlace): boolean => lineLikeness(a, b) >= sameShare

/**
 * True where two closed outlines are taken for one enclosure: the ground that both hold is 60 % of what either holds, or one outline
 * lies along the other as the same line does. A rule of our own. Ground is counted on 64 x 64 places, so to 1 or 2 %.
 */
export const isSameEnclosure = (a: LinePlace, b: LinePlace): boolean =>
  meets(a.xy, b.xy, 0) && (overlap(a.xy, b.xy) >= sameOverlap || isSameLine(a, b))

/** The greater share of the length of either line that lies along the other, 0 to 1. */
export function lineLikeness(a: LinePlace, b: LinePlace): number {
  const reach = Math.max(leastReachM, a.width ?? 0, b.width ?? 0)
  if (!meets(a.xy, b.xy, reach)) return 0
  return Math.max(shareAlong(a.xy, b.xy, reach), shareAlong(b.xy, a.xy, reach))
}

function meets(a: Float64Array, b: Float64Array, reach: number): boolean {
  const [p, q] = [boundsOf(a), boundsOf(b)]
  const apart = Math.max(p.minX - q.maxX, q.minX - p.maxX, p.minY - q.maxY, q.minY - p.maxY)
  return apart <= reach
}

/** Share of the length of a line that is within reach of another, by places laid out evenly along it. */
function shareAlong(line: Float64Array, other: Float64Array, reach: number): number {
  const length = lengthOf(line)
  if (!(length > 0)) return 0
  const count = Math.max(8, Math.min(mostPlaces, Math.ceil((2 * length) / reach)))
  let near = 0
  let [leg, before] = [0, 0]
  for (let n = 0; n < count; n++) {
    const at = ((n + 0.5) / count) * length
    let long = legLength(line, leg)
    while (before + long < at && leg + 2 < line.length / 2) {
      before += long
      long = legLength(line, ++leg)
    }
    const share = long > 0 ? Math.min(1, (at - before) / long) : 0
    const [x0, y0] = [line[2 * leg]!, line[2 * leg + 1]!]
    const x = x0 + share * (line[2 * leg + 2]! - x0)
    const y = y0 + share * (line[2 * leg + 3]! - y0)
    if (isNear(x, y, other, reach)) near++
  }
  return near / count
}

const legLength = (xy: Float64Array, leg: number): number =>
  Math.hypot(xy[2 * leg + 2]! - xy[2 * leg]!, xy[2 * leg + 3]! - xy[2 * leg + 1]!)

function lengthOf(xy: Float64Array): number {
  let sum = 0
  for (let leg = 0; leg + 1 < xy.length / 2; leg++) sum += legLength(xy, leg)
  return sum
}

function isNear(x: number, y: number, line: Float64Array, reach: number): boolean {
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [x0, y0] = [line[i]!, line[i + 1]!]
    const [dx, dy] = [line[i + 2]! - x0, line[i + 3]! - y0]
    const squared = dx * dx + dy * dy
    const share = squared > 0 ? Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / squared)) : 0
    if (Math.hypot(x - x0 - share * dx, y - y0 - share * dy) <= reach) return true
  }
  return false
}

/** Ground that both hold over that which either holds. */
function overlap(a: Float64Array, b: Float64Array): number {
  const [p, q] = [boundsOf(a), boundsOf(b)]
  const [left, right] = [Math.max(p.minX, q.minX), Math.min(p.maxX, q.maxX)]
  const [low, high] = [Math.max(p.minY, q.minY), Math.min(p.maxY, q.maxY)]
  let both = 0
  for (let n = 0; n < overlapPlaces * overlapPlaces; n++) {
    const x = left + (((n % overlapPlaces) + 0.5) / overlapPlaces) * (right - left)
    const y = low + ((Math.floor(n / overlapPlaces) + 0.5) / overlapPlaces) * (high - low)
    if (pointInPolygon(x, y, { rings: [a] }) && pointInPolygon(x, y, { rings: [b] })) both++
  }
  const shared = (both / overlapPlaces ** 2) * (right - left) * (high - low)
  return shared / (Math.abs(ringArea(a)) + Math.abs(ringArea(b)) - shared)
}
