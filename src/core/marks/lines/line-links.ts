import type { Chain } from './line-chains.ts'
import { gapCost, type LineEvidence, lineEvidence, type TracedNoise } from './line-evidence.ts'
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

/** Chains cut to what speaks for a line, those joined whose ends look at one another over a gap that costs less evidence than either has. */
export function linkedChains(points: LinePoints, traced: readonly Chain[], noise: TracedNoise): Chain[] {
  const kept: { chain: Chain; evidence: LineEvidence }[] = []
  for (const whole of traced) {
    const { total, from, to } = lineEvidence(points, whole, noise)
    const chain = whole.slice(from, to + 1)
    if (total > 0 && chain.length >= 3)
      kept.push({ chain, evidence: { total, from: 0, to: chain.length - 1 } })
  }
  const ends = kept.flatMap(({ chain, evidence }, i) =>
    evidence.total < leastEvidence
      ? []
      : [endOf(points, chain, i, false), endOf(points, chain, i, true)].flatMap((end) => end ?? []),
  )
  const links = possibleLinks(ends, (i) => kept[i]!.evidence.total).sort((a, b) => a.cost - b.cost)
  return joined(
    kept.map(({ chain }) => chain),
    links,
  )
}

function endOf(points: LinePoints, chain: Chain, index: number, last: boolean): End | null {
  const order = last ? chain.toReversed() : chain
  const place = (i: number): readonly [number, number] => [
    points[i * pointStride + at.x]!,
    points[i * pointStride + at.y]!,
  ]
  const [x, y] = place(order[0]!)
  let n = 1
  while (n < order.length - 1 && Math.hypot(place(order[n]!)[0] - x, place(order[n]!)[1] - y) < endReach) n++
  const half = order.slice(Math.floor(n / 2), n + 1)
  const near = order.slice(0, Math.floor(n / 2) + 1)
  const mean = (of: readonly number[], axis: 0 | 1): number =>
    of.reduce((sum, i) => sum + place(i)[axis], 0) / of.length
  const [dx, dy] = [mean(near, 0) - mean(half, 0), mean(near, 1) - mean(half, 1)]
  const length = Math.hypot(dx, dy)
  return length < 1 ? null : { chain: index, last, x, y, cos: dx / length, sin: dy / length }
}

function possibleLinks(ends: readonly End[], evidence: (chain: number) => number): Link[] {
  const cells = new Map<string, number[]>()
  const cellOf = (value: number): number => Math.floor(value / longestGap)
  ends.forEach(({ x, y }, i) => {
    const key = `${cellOf(x)},${cellOf(y)}`
    const cell = cells.get(key)
    if (cell) cell.push(i)
    else cells.set(key, [i])
  })
  const links: Link[] = []
  ends.forEach((a, i) => {
    for (let column = cellOf(a.x) - 1; column <= cellOf(a.x) + 1; column++)
      for (let row = cellOf(a.y) - 1; row <= cellOf(a.y) + 1; row++)
        for (const j of cells.get(`${column},${row}`) ?? []) {
          const b = ends[j]!
          if (j <= i || a.chain === b.chain) continue
          const cost = linkCost(a, b)
          if (cost < Math.min(evidence(a.chain), evidence(b.chain))) links.push({ a, b, cost })
        }
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

/** Follows the cheapest links; every end is joined once, and no chain comes back to itself. */
function joined(chains: readonly Chain[], links: readonly Link[]): Chain[] {
  const group = chains.map((_, i) => i)
  const root = (i: number): number => {
    let at = i
    while (group[at] !== at) at = group[at]!
    return at
  }
  const partner = new Map<string, End>()
  const key = ({ chain, last }: Pick<End, 'chain' | 'last'>): string => `${chain}${last ? 'b' : 'a'}`
  for (const { a, b } of links) {
    if (partner.has(key(a)) || partner.has(key(b)) || root(a.chain) === root(b.chain)) continue
    partner.set(key(a), b)
    partner.set(key(b), a)
    group[root(a.chain)] = root(b.chain)
  }
  const done = new Set<number>()
  const out: Chain[] = []
  chains.forEach((_, i) => {
    // A path starts at a chain one of whose ends is free.
    const free = [false, true].find((last) => !partner.has(key({ chain: i, last })))
    if (done.has(i) || free === undefined) return
    const path: number[] = []
    let [current, entered]: [number, boolean] = [i, free]
    for (;;) {
      done.add(current)
      path.push(...(entered ? chains[current]!.toReversed() : chains[current]!))
      const next = partner.get(key({ chain: current, last: !entered }))
      if (!next) break
      ;[current, entered] = [next.chain, next.last]
    }
    out.push(path)
  })
  return out
}
