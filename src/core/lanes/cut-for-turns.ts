import { type Polygon, ringArea } from '#core/geometry'
import { fewestTurns } from './fewest-turns.ts'

/** Cutting stops where it saves fewer lanes than this, or a smaller share of them: a cut costs walking between pieces. */
const fewestSaved = 3
const leastShareSaved = 0.1
const mostPieces = 24
/** Outlines with more corners are not cut: trying the cuts would take longer than the lanes. */
const mostCorners = 3000
const mostCornersTried = 48

/**
 * Cuts a polygon into pieces where lanes along a bearing of each piece's own are fewer than along one for all: the arms of an L.
 *
 * Method  greedy: from corners where the outline turns inwards, cuts that carry on one of the edges there are tried, and the
 *         one that saves most is made; then the pieces are cut in turn.
 * Shape   pieces share only their cut edges. A cut never crosses a hole.
 * Limits  a good cutting, not the best.
 */
export function cutForTurns(polygon: Polygon, spacing: number): Polygon[] {
  const done: Polygon[] = []
  const open = [polygon]
  while (open.length > 0) {
    const piece = open.pop()!
    const cut = done.length + open.length + 2 <= mostPieces ? bestCut(piece, spacing) : null
    if (cut === null) done.push(piece)
    else open.push(...cut)
  }
  return done
}

function bestCut(piece: Polygon, spacing: number): [Polygon, Polygon] | null {
  const outer = openRing(piece.rings[0]!)
  if (outer.length / 2 > mostCorners) return null
  const whole = fewestTurns(piece).acrossM
  let least = Math.min(whole - fewestSaved * spacing, whole * (1 - leastShareSaved))
  let best: [Polygon, Polygon] | null = null
  for (const { corner, dx, dy } of inwardCorners(outer)) {
    const cut = cutFrom(outer, piece.rings.slice(1), corner, dx, dy)
    if (cut === null) continue
    const across = fewestTurns(cut[0]).acrossM + fewestTurns(cut[1]).acrossM
    if (across < least) {
      least = across
      best = cut
    }
  }
  return best
}

/** Counter-clockwise corners, the first not repeated. */
function openRing(ring: Float64Array): number[] {
  const out: number[] = []
  for (let i = 0; i + 3 < ring.length; i += 2)
    if (ring[i] !== ring[i + 2] || ring[i + 1] !== ring[i + 3]) out.push(ring[i]!, ring[i + 1]!)
  if (ringArea(ring) > 0) return out
  const back: number[] = []
  for (let i = out.length - 2; i >= 0; i -= 2) back.push(out[i]!, out[i + 1]!)
  return back
}

/** Corners where the outline turns inwards, the sharpest with the longest edges first, with the two directions of a cut at each. */
function inwardCorners(ring: readonly number[]): { corner: number; dx: number; dy: number }[] {
  const n = ring.length / 2
  const found: { corner: number; weight: number; into: [number, number]; out: [number, number] }[] = []
  for (let c = 0; c < n; c++) {
    const p = (c + n - 1) % n
    const q = (c + 1) % n
    const into: [number, number] = [ring[2 * c]! - ring[2 * p]!, ring[2 * c + 1]! - ring[2 * p + 1]!]
    const out: [number, number] = [ring[2 * q]! - ring[2 * c]!, ring[2 * q + 1]! - ring[2 * c + 1]!]
    const cross = into[0] * out[1] - into[1] * out[0]
    if (cross >= 0) continue
    found.push({ corner: c, weight: -cross / Math.max(length(into), length(out)), into, out })
  }
  return found
    .sort((a, b) => b.weight - a.weight)
    .slice(0, mostCornersTried)
    .flatMap(({ corner, into, out }) => [
      { corner, dx: into[0], dy: into[1] },
      { corner, dx: -out[0], dy: -out[1] },
    ])
}

const length = ([x, y]: readonly [number, number]): number => Math.sqrt(x * x + y * y)

/** The two sides of a cut from a corner in a direction to where it first meets the outline; null where a hole is in the way. */
function cutFrom(
  ring: readonly number[],
  holes: readonly Float64Array[],
  corner: number,
  dx: number,
  dy: number,
): [Polygon, Polygon] | null {
  const n = ring.length / 2
  const [x, y] = [ring[2 * corner]!, ring[2 * corner + 1]!]
  let nearest = Infinity
  let hit = -1
  for (let e = 0; e < n; e++) {
    if (e === corner || (e + 1) % n === corner) continue
    const t = meets(x, y, dx, dy, ring, 2 * e, 2 * ((e + 1) % n))
    if (t < nearest) {
      nearest = t
      hit = e
    }
  }
  if (hit < 0) return null
  for (const hole of holes)
    for (let i = 0; i + 3 < hole.length; i += 2)
      if (meets(x, y, dx, dy, hole, i, i + 2) <= nearest) return null
  const end = [x + nearest * dx, y + nearest * dy]
  const ahead = [...corners(ring, corner, hit), ...end]
  const behind = [...end, ...corners(ring, (hit + 1) % n, corner)]
  const sides = [ahead, behind].map((side) => Float64Array.from([...side, side[0]!, side[1]!]))
  if (sides.some((side) => ringArea(side) <= 0)) return null
  const first: { rings: Float64Array[] } = { rings: [sides[0]!] }
  const second: { rings: Float64Array[] } = { rings: [sides[1]!] }
  for (const hole of holes) {
    if (holds(sides[0]!, hole[0]!, hole[1]!)) first.rings.push(hole)
    else second.rings.push(hole)
  }
  return [first, second]
}

/** How many times (dx, dy) from (x, y) the edge between two corners is met; Infinity where it is not. */
function meets(
  x: number,
  y: number,
  dx: number,
  dy: number,
  ring: ArrayLike<number>,
  i: number,
  j: number,
): number {
  const [ex, ey] = [ring[j]! - ring[i]!, ring[j + 1]! - ring[i + 1]!]
  const den = dx * ey - dy * ex
  if (den === 0) return Infinity
  const t = ((ring[i]! - x) * ey - (ring[i + 1]! - y) * ex) / den
  const w = ((ring[i]! - x) * dy - (ring[i + 1]! - y) * dx) / den
  return t > 1e-9 && w >= 0 && w <= 1 ? t : Infinity
}

/** Corners from one to another, both included, going round. */
function corners(ring: readonly number[], from: number, to: number): number[] {
  const n = ring.length / 2
  const out: number[] = []
  for (let c = from; ; c = (c + 1) % n) {
    out.push(ring[2 * c]!, ring[2 * c + 1]!)
    if (c === to) return out
  }
}

function holds(ring: Float64Array, x: number, y: number): boolean {
  let inside = false
  for (let i = 0; i + 3 < ring.length; i += 2) {
    const [y0, y1] = [ring[i + 1]!, ring[i + 3]!]
    if (y0 > y !== y1 > y && x < ring[i]! + ((y - y0) / (y1 - y0)) * (ring[i + 2]! - ring[i]!))
      inside = !inside
  }
  return inside
}
