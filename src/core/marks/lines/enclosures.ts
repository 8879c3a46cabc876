import { gapCost } from './line-evidence.ts'
import { angleBetween, endsOf, fromSide, type LineSide, lineSides } from './line-sides.ts'
import type { MeasuredLine } from './measured-line.ts'

/** A rectangle that lines make, nearly closed. Pixels of the image. */
export interface MeasuredEnclosure {
  /** Corners, the first again as the last. */
  readonly xy: Float64Array
  readonly sides: readonly LineSide[]
  readonly length: number
  readonly completeness: number
  /** What its sides show, less what its missing parts cost. */
  readonly logOdds: number
}

/** Sides of an enclosure are at least this long, pixels. */
const shortestSide = 10
/** Lines that show less are no sides. */
const leastOdds = 5
/** No more sides than this are tried, the best. */
const mostSides = 3000
/** Corners may be off a right angle, and opposite sides off parallel, by this, radians. */
const askew = 0.2
/** How far the end of a side may stop short of a corner: pixels, or this share of its length. */
const shortOf = { pixels: 10, share: 0.4 }
/** A part of the outline is seen where a side lies within this of it, pixels. */
const onOutline = 3
/** Shares of the outline, and of each of its three best sides, that must be seen. */
const leastSeen = 0.65
const leastSeenOfSide = 0.5

/**
 * Rectangles of which at least three sides are seen, best first, none on another.
 *
 * Method  two sides that run parallel and a third that closes them at one end at right angles; the fourth where a side is, or else where the two parallel ones end.
 * Cost    sides times those parallel to them times those across.
 */
export function enclosures(lines: readonly MeasuredLine[]): MeasuredEnclosure[] {
  const strong = lines.filter(({ logOdds }) => logOdds >= leastOdds)
  const sides = lineSides(strong, shortestSide)
    .sort((a, b) => b.oddsAPixel * b.length - a.oddsAPixel * a.length)
    .slice(0, mostSides)
  const found: MeasuredEnclosure[] = []
  const joints = sides.map((side) => sides.filter((other) => isCorner(side, other)))
  sides.forEach((base, b) => {
    const across = joints[b]!
    across.forEach((first, i) => {
      for (const second of across.slice(i + 1)) {
        if (angleBetween(first, second) > askew) continue
        const made = rectangleOf(base, first, second, sides)
        if (made) found.push(made)
      }
    })
  })
  return distinct(found)
}

/** Whether two sides meet, or nearly, at about a right angle with their ends. */
function isCorner(a: LineSide, b: LineSide): boolean {
  if (a === b || a.line.tone !== b.line.tone || angleBetween(a, b) < Math.PI / 2 - askew) return false
  const meeting = meetingOf(a, b)
  return meeting !== null && nearEnd(a, meeting) && nearEnd(b, meeting)
}

function meetingOf(a: LineSide, b: LineSide): readonly [number, number] | null {
  const turn = a.cos * b.sin - a.sin * b.cos
  if (Math.abs(turn) < 0.1) return null
  const along = ((b.x - a.x) * b.sin - (b.y - a.y) * b.cos) / turn
  return [a.x + along * a.cos, a.y + along * a.sin]
}

function nearEnd(side: LineSide, [x, y]: readonly [number, number]): boolean {
  const slack = Math.max(shortOf.pixels, shortOf.share * side.length)
  const [along] = fromSide(side, x, y)
  return Math.min(Math.abs(along), Math.abs(along - side.length)) <= slack
}

/** The rectangle on a base that two sides rise from on the same hand; null where they make none. */
function rectangleOf(
  base: LineSide,
  first: LineSide,
  second: LineSide,
  sides: readonly LineSide[],
): MeasuredEnclosure | null {
  const foot = (side: LineSide): number => fromSide(base, ...meetingOf(base, side)!)[0]
  const [one, other] = [foot(first), foot(second)]
  const broad = Math.abs(one - other)
  // How far a side rises, to which hand.
  const rise = (side: LineSide): number => {
    const heights = endsOf(side).map(([x, y]) => fromSide(base, x, y)[1])
    return Math.abs(heights[0]!) > Math.abs(heights[1]!) ? heights[0]! : heights[1]!
  }
  const [up, down] = [rise(first), rise(second)]
  if (broad < shortestSide || up * down <= 0) return null
  const hand = Math.sign(up)
  const tops = [Math.max(up * hand, down * hand), ...topsAbove(base, sides, [one, other], hand)]
  let best: MeasuredEnclosure | null = null
  for (const top of tops) {
    if (top < shortestSide) continue
    const made = measured(base, [Math.min(one, other), Math.max(one, other)], hand * top, sides)
    if (made && made.logOdds > (best?.logOdds ?? 0)) best = made
  }
  return best
}

/** Heights over the base of sides that may close the rectangle. */
function topsAbove(
  base: LineSide,
  sides: readonly LineSide[],
  [one, other]: readonly [number, number],
  hand: number,
): number[] {
  const [low, high] = [Math.min(one, other), Math.max(one, other)]
  return sides.flatMap((side) => {
    if (side === base || side.line.tone !== base.line.tone || angleBetween(side, base) > askew) return []
    const [from, to] = endsOf(side).map(([x, y]) => fromSide(base, x, y)) as [
      readonly [number, number],
      readonly [number, number],
    ]
    const middle = ((from[1] + to[1]) / 2) * hand
    const overlap = Math.min(high, Math.max(from[0], to[0])) - Math.max(low, Math.min(from[0], to[0]))
    return middle >= shortestSide && middle < 4 * (high - low) && overlap > 0.4 * (high - low) ? [middle] : []
  })
}

function measured(
  base: LineSide,
  [from, to]: readonly [number, number],
  height: number,
  sides: readonly LineSide[],
): MeasuredEnclosure | null {
  const place = (along: number, right: number): [number, number] => [
    base.x + along * base.cos - right * base.sin,
    base.y + along * base.sin + right * base.cos,
  ]
  const corners = [place(from, 0), place(to, 0), place(to, height), place(from, height)]
  const scale = 2 ** base.line.level
  const used = new Set<LineSide>()
  const shares: number[] = []
  let [odds, seen, length] = [0, 0, 0]
  corners.forEach((corner, c) => {
    const next = corners[(c + 1) % 4]!
    const edge = Math.hypot(next[0] - corner[0], next[1] - corner[1])
    const cover = coverOf(corner, next, edge, sides, base.line.tone, onOutline * scale, used)
    odds += cover.odds - gapCost(edge - cover.seen) / scale
    seen += cover.seen
    length += edge
    shares.push(cover.seen / edge)
  })
  const third = shares.toSorted((a, b) => b - a)[2]!
  if (seen / length < leastSeen || third < leastSeenOfSide || odds <= 0) return null
  const xy = Float64Array.from([...corners, corners[0]!].flat())
  return { xy, sides: [...used], length, completeness: seen / length, logOdds: odds }
}

/** What of an edge is seen, and what that shows. */
function coverOf(
  [x, y]: readonly [number, number],
  [endX, endY]: readonly [number, number],
  edge: number,
  sides: readonly LineSide[],
  tone: string,
  within: number,
  used: Set<LineSide>,
): { seen: number; odds: number } {
  const line: LineSide = { ...sides[0]!, x, y, cos: (endX - x) / edge, sin: (endY - y) / edge, length: edge }
  const spans: { from: number; to: number; odds: number }[] = []
  for (const side of sides) {
    if (side.line.tone !== tone || angleBetween(side, line) > askew) continue
    const [a, b] = endsOf(side).map(([px, py]) => fromSide(line, px, py)) as [
      readonly [number, number],
      readonly [number, number],
    ]
    if (Math.abs(a[1] + b[1]) / 2 > within) continue
    const [from, to] = [Math.max(0, Math.min(a[0], b[0])), Math.min(edge, Math.max(a[0], b[0]))]
    if (to <= from) continue
    spans.push({ from, to, odds: side.oddsAPixel })
    used.add(side)
  }
  let [seen, odds, at] = [0, 0, 0]
  for (const span of spans.sort((a, b) => a.from - b.from)) {
    const own = Math.max(0, span.to - Math.max(at, span.from))
    seen += own
    odds += own * span.odds
    at = Math.max(at, span.to)
  }
  return { seen, odds }
}

/** Best first; of those that share a side's ground in the main only the best. */
function distinct(found: readonly MeasuredEnclosure[]): MeasuredEnclosure[] {
  const kept: MeasuredEnclosure[] = []
  for (const one of found.toSorted((a, b) => b.logOdds - a.logOdds)) {
    const own = new Set(one.sides.map(({ line }) => line))
    const taken = kept.some((other) => other.sides.filter(({ line }) => own.has(line)).length >= 2)
    if (!taken) kept.push(one)
  }
  return kept
}
