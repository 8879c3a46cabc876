import type { DrawnLine } from './line-features.ts'
import { lengthOf } from './line-features.ts'

/** How candidates, best first, stand against the lines that were drawn; everything is weighed by length. */
export interface LineJudgement {
  /** Area under precision over recall, candidate by candidate, without interpolation. */
  readonly averagePrecision: number
  readonly bestF1: number
  /** At the place of `bestF1`. */
  readonly precision: number
  readonly recall: number
  /** Shares of the seen length of each sort that the candidates up to that place found. */
  readonly recallOf: Readonly<Record<string, number>>
}

/** A sample of a candidate counts as right within so many pixels of the middle of a drawn line, and one of a drawn line as found likewise. */
const tolerance = 2

type Samples = readonly (readonly [x: number, y: number])[]

/**
 * Samples lie a pixel apart. A stretch of a candidate beside a drawn line, also in a gap of it, is right; stretches of drawn lines outside their gaps are to be found. The
 * same stretch found twice is found once, and right twice. What lies on `ignored` lines is left out.
 */
export function judgeLines(
  found: readonly { readonly xy: ArrayLike<number> }[],
  lines: readonly DrawnLine[],
  ignored: readonly DrawnLine[] = [],
): LineJudgement {
  const truth = lines.map((line) => samples(line.xy, line.gaps))
  const total = truth.reduce((sum, each) => sum + each.length, 0)
  const reached = truth.map((each) => new Uint8Array(each.length))
  const onLine = nearest(lines.map(({ xy }) => samples(xy)))
  const onIgnored = nearest(ignored.map(({ xy }) => samples(xy)))
  const [right, all, covered] = [[0], [0], [0]]
  const state: Uint8Array[][] = []
  for (const { xy } of found) {
    const own = samples(xy)
    const good = own.filter(onLine).length
    const left = own.filter((at) => !onLine(at) && onIgnored(at)).length
    right.push(right.at(-1)! + good)
    all.push(all.at(-1)! + own.length - left)
    const near = nearest([own])
    truth.forEach((each, t) => {
      each.forEach((at, n) => {
        if (reached[t]![n] === 0 && near(at)) reached[t]![n] = 1
      })
    })
    covered.push(reached.reduce((sum, each) => sum + each.reduce((s, v) => s + v, 0), 0))
    state.push(reached.map((each) => each.slice()))
  }
  let [area, bestF1, at] = [0, 0, 0]
  for (let i = 1; i < right.length; i++) {
    const precision = all[i]! === 0 ? 1 : right[i]! / all[i]!
    area += ((covered[i]! - covered[i - 1]!) / total) * precision
    const recall = covered[i]! / total
    const f1 = (2 * precision * recall) / Math.max(1e-9, precision + recall)
    if (f1 > bestF1) [bestF1, at] = [f1, i]
  }
  const then = at > 0 ? state[at - 1]! : reached.map((each) => each.fill(0))
  const recallOf: Record<string, number> = {}
  for (const sort of new Set(lines.map((line) => line.sort))) {
    const own = lines.flatMap((line, t) => (line.sort === sort ? [t] : []))
    const seen = own.reduce((sum, t) => sum + then[t]!.reduce((s, v) => s + v, 0), 0)
    recallOf[sort] = seen / own.reduce((sum, t) => sum + truth[t]!.length, 0)
  }
  return {
    averagePrecision: area,
    bestF1,
    precision: at === 0 ? 0 : right[at]! / Math.max(1, all[at]!),
    recall: covered[at]! / total,
    recallOf,
  }
}

function samples(xy: ArrayLike<number>, gaps: DrawnLine['gaps'] = []): Samples {
  const out: [number, number][] = []
  const length = lengthOf(Array.from(xy))
  const count = Math.max(1, Math.round(length))
  let [leg, before] = [2, 0]
  for (let n = 0; n < count; n++) {
    const along = ((n + 0.5) / count) * length
    for (;;) {
      const own = Math.hypot(xy[leg]! - xy[leg - 2]!, xy[leg + 1]! - xy[leg - 1]!)
      if (along <= before + own || leg + 2 >= xy.length) {
        const share = own > 0 ? (along - before) / own : 0
        if (!gaps.some(([from, to]) => along > from && along < to))
          out.push([
            xy[leg - 2]! + share * (xy[leg]! - xy[leg - 2]!),
            xy[leg - 1]! + share * (xy[leg + 1]! - xy[leg - 1]!),
          ])
        break
      }
      before += own
      leg += 2
    }
  }
  return out
}

/** Whether any of some samples lies within the tolerance of a place. */
function nearest(lines: readonly Samples[]): (at: readonly [number, number]) => boolean {
  const cells = new Map<number, [number, number][]>()
  const key = (x: number, y: number): number => Math.floor(x / 4) * 65_536 + Math.floor(y / 4)
  for (const line of lines)
    for (const [x, y] of line) {
      const cell = cells.get(key(x, y))
      if (cell) cell.push([x, y])
      else cells.set(key(x, y), [[x, y]])
    }
  return ([x, y]) => {
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++)
        for (const [a, b] of cells.get(key(x + 4 * i, y + 4 * j)) ?? [])
          if ((a - x) ** 2 + (b - y) ** 2 <= tolerance * tolerance) return true
    return false
  }
}
