import type { Chain } from './line-chains.ts'
import { gapCost, lineEvidence, type TracedNoise } from './line-evidence.ts'
import { at, type LinePoints, pointStride } from './line-points.ts'

/** Longest gap over which two chains are joined, pixels of the level. */
const longestGap = 40
/** Chains that show less than this are not joined with others. */
const leastEvidence = 2
/** Spread of the angle between the end of a chain and the gap, radians, and how far off a gap may lie. */
const bend = 0.17
const mostBend = 0.45
/** An end is known to some so many pixels, which over a short gap is an angle. */
const endSlack = 0.8
/** How far in from its end a chain's direction is taken, pixels. */
const endReach = 9

interface End {
  readonly chain: number
  readonly last: boolean
  readonly x: number
  readonly y: number
  /** Outwards. */
  readonly cos: number
  readonly sin: number
}

interface Link {
  readonly a: End
  readonly b: End
  readonly cost: number
}

/** A chain with what it shows for a line. */
export interface ShownChain {
  readonly chain: Chain
  readonly total: number
}

/** Chains cut to what speaks for a line, those joined whose ends look at one another over a gap that costs less evidence than either has. */
export function linkedChains(points: LinePoints, traced: readonly Chain[], noise: TracedNoise): ShownChain[] {
  const shown = (whole: Chain): ShownChain => {
    const { total, from, to } = lineEvidence(points, whole, noise)
    return { total, chain: whole.slice(from, to + 1) }
  }
  const kept = traced.map(shown).filter(({ chain, total }) => total > 0 && chain.length >= 3)
  const ends = kept.flatMap(({ chain, total }, i) =>
    total < leastEvidence
      ? []
      : [endOf(points, chain, i, false), endOf(points, chain, i, true)].flatMap((end) => end ?? []),
  )
  const links = possibleLinks(ends, (i) => kept[i]!.total).sort((a, b) => a.cost - b.cost)
  return paths(kept.length, links).map((path) =>
    path.length === 1
      ? kept[path[0]!.chain]!
      : shown(
          path.flatMap(({ chain, last }) => {
            const own = kept[chain]!.chain
            return last ? own.toReversed() : own
          }),
        ),
  )
}

/** Direction of an end: from the mean of the farther half of its last pixels to that of the nearer half. */
function endOf(points: LinePoints, chain: Chain, index: number, last: boolean): End | null {
  const base = (n: number): number => chain[last ? chain.length - 1 - n : n]! * pointStride
  const x = points[base(0) + at.x]!
  const y = points[base(0) + at.y]!
  let n = 1
  while (
    n < chain.length - 1 &&
    Math.hypot(points[base(n) + at.x]! - x, points[base(n) + at.y]! - y) < endReach
  )
    n++
  const half = n >> 1
  const mean = (from: number, to: number, axis: number): number => {
    let sum = 0
    for (let k = from; k <= to; k++) sum += points[base(k) + axis]!
    return sum / (to - from + 1)
  }
  const dx = mean(0, half, at.x) - mean(half, n, at.x)
  const dy = mean(0, half, at.y) - mean(half, n, at.y)
  const length = Math.hypot(dx, dy)
  return length < 1 ? null : { chain: index, last, x, y, cos: dx / length, sin: dy / length }
}

function possibleLinks(ends: readonly End[], evidence: (chain: number) => number): Link[] {
  const cells = new Map<number, number[]>()
  const cellOf = (value: number): number => Math.floor(value / longestGap)
  const keyOf = (column: number, row: number): number => column * 1_048_576 + row
  ends.forEach(({ x, y }, i) => {
    const key = keyOf(cellOf(x), cellOf(y))
    const cell = cells.get(key)
    if (cell) cell.push(i)
    else cells.set(key, [i])
  })
  const links: Link[] = []
  const tryLink = (a: End, b: End): void => {
    const most = Math.min(evidence(a.chain), evidence(b.chain))
    // Most are too far from one another whichever way they look.
    if (gapCost(Math.max(Math.abs(b.x - a.x), Math.abs(b.y - a.y))) >= most) return
    const cost = linkCost(a, b)
    if (cost < most) links.push({ a, b, cost })
  }
  ends.forEach((a, i) => {
    for (let column = cellOf(a.x) - 1; column <= cellOf(a.x) + 1; column++)
      for (let row = cellOf(a.y) - 1; row <= cellOf(a.y) + 1; row++)
        for (const j of cells.get(keyOf(column, row)) ?? [])
          if (j > i && ends[j]!.chain !== a.chain) tryLink(a, ends[j]!)
  })
  return links
}

function linkCost(a: End, b: End): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  const gap = Math.hypot(dx, dy)
  if (gap > longestGap) return Infinity
  if (gap < 2) return a.cos * b.cos + a.sin * b.sin < -Math.cos(mostBend) ? 0 : Infinity
  const off = (cosine: number): number =>
    Math.max(0, Math.acos(Math.max(-1, Math.min(1, cosine))) - Math.atan(endSlack / gap))
  const [first, second] = [off((a.cos * dx + a.sin * dy) / gap), off(-(b.cos * dx + b.sin * dy) / gap)]
  if (first > mostBend || second > mostBend) return Infinity
  return gapCost(gap) + (first * first + second * second) / (2 * bend * bend)
}

/** One chain of a path, and whether it is run through from its last point on. */
interface PathPart {
  readonly chain: number
  readonly last: boolean
}

/** Follows the cheapest links; every end is joined once, and no chain comes back to itself. */
function paths(count: number, links: readonly Link[]): PathPart[][] {
  const group = Int32Array.from({ length: count }, (_, i) => i)
  const root = (i: number): number => {
    let at = i
    while (group[at] !== at) at = group[at]!
    return at
  }
  // By twice the chain, and one more for its last end.
  const partner = new Map<number, End>()
  const key = ({ chain, last }: PathPart): number => 2 * chain + (last ? 1 : 0)
  for (const { a, b } of links) {
    if (partner.has(key(a)) || partner.has(key(b)) || root(a.chain) === root(b.chain)) continue
    partner.set(key(a), b)
    partner.set(key(b), a)
    group[root(a.chain)] = root(b.chain)
  }
  const done = new Uint8Array(count)
  const out: PathPart[][] = []
  for (let chain = 0; chain < count; chain++) {
    // A path starts at a chain one of whose ends is free.
    const free = [false, true].find((last) => !partner.has(key({ chain, last })))
    if (done[chain] === 1 || free === undefined) continue
    const path: PathPart[] = []
    let current: PathPart | undefined = { chain, last: free }
    while (current) {
      done[current.chain] = 1
      path.push(current)
      current = partner.get(key({ chain: current.chain, last: !current.last }))
    }
    out.push(path)
  }
  return out
}
