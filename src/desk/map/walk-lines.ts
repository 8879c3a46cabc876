import { walkColumns } from '#contract'

type Line = [number, number][]

/** Which colours of the ramp of passes the three steps of speed have. */
export const speedColours = [0, 1, 3] as const
/** Faster than this many times the safe speed is the last of three steps. */
export const muchFaster = 2

/** Lines of a walk by step of speed: up to the safe speed, up to twice that, and faster. A leg has the speed of its later fix. */
export function speedLines(walk: Float64Array, safeMS: number): readonly [Line[], Line[], Line[]] {
  const lines: [Line[], Line[], Line[]] = [[], [], []]
  let last = -1
  for (let i = walkColumns; i < walk.length; i += walkColumns) {
    const before = i - walkColumns
    if (walk[i + 5] !== walk[before + 5]) {
      last = -1
      continue
    }
    const speed = walk[i + 3]!
    const step = speed > muchFaster * safeMS ? 2 : speed > safeMS ? 1 : 0
    const end: [number, number] = [walk[i]!, walk[i + 1]!]
    if (step === last) lines[step].at(-1)!.push(end)
    else lines[step].push([[walk[before]!, walk[before + 1]!], end])
    last = step
  }
  return lines
}

/** The walk up to a moment, a line a piece. */
export function trailUntil(walk: Float64Array, at: number): Line[] {
  const lines: Line[] = []
  let piece = Number.NaN
  for (let i = 0; i < walk.length; i += walkColumns) {
    if (!(walk[i + 2]! <= at)) continue
    if (walk[i + 5] !== piece) lines.push([])
    piece = walk[i + 5]!
    lines.at(-1)!.push([walk[i]!, walk[i + 1]!])
  }
  return lines.filter(({ length }) => length > 1)
}

/** Where the walker was last seen at a moment; null before the first fix. */
export function placeInWalk(walk: Float64Array, at: number): [number, number] | null {
  let best = -1
  for (let i = 0; i < walk.length; i += walkColumns)
    if (walk[i + 2]! <= at && (best < 0 || walk[i + 2]! >= walk[best + 2]!)) best = i
  return best < 0 ? null : [walk[best]!, walk[best + 1]!]
}

/** First and last moment of a walk; null without times. */
export function spanOf(walk: Float64Array): readonly [number, number] | null {
  let [first, last] = [Infinity, -Infinity]
  for (let i = 2; i < walk.length; i += walkColumns) {
    first = Math.min(first, Number.isNaN(walk[i]!) ? Infinity : walk[i]!)
    last = Math.max(last, Number.isNaN(walk[i]!) ? -Infinity : walk[i]!)
  }
  return first < last ? [first, last] : null
}
