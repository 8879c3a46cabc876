import type { Tone } from '../candidate.ts'
import { flatten, flattenReach } from '../ground/flatten.ts'
import { type LevelSource, type LevelWindow, sizeAt } from '../ground/levels.ts'
import { lineDirections } from './line-directions.ts'
import { noiseBlocks, noiseSide } from './line-noise.ts'
import { type BestResponse, type LineResponse, lineResponse, lineScale, widerScale } from './line-response.ts'
import { type PaddedFrame, responsePad } from './padded-frame.ts'

/**
 * Places where a line may run: the greatest response across its direction. `pointStride` numbers each: x, y (pixels of the level from the outer corner of the
 * upper left one), direction (of `lineDirections`), strength, local strength at the place alone, the response at either scale, contrast against the left
 * and the right side. Contrasts are in spreads of the flattened ground.
 */
export type LinePoints = Float32Array
export const pointStride = 9
export const at = {
  x: 0,
  y: 1,
  direction: 2,
  strength: 3,
  local: 4,
  narrow: 5,
  wide: 6,
  left: 7,
  right: 8,
} as const

/** Weaker responses are no part of any line. */
const leastStrength = 2.3
/** How far to the sides the ground beside a line is looked at, pixels. */
const sideReach = 4

/** Points of a window of a level, of each tone that is wanted. What is found at a place does not depend on the window. */
export function linePoints(
  source: LevelSource,
  level: number,
  core: LevelWindow,
  { leastSpread, tones }: { readonly leastSpread: number; readonly tones: readonly Tone[] },
): { readonly tone: Tone; readonly points: LinePoints }[] {
  const region = regionAbout(core, sizeAt(source, level))
  const { frame, known } = paddedFlat(source, level, region, leastSpread)
  const blocks = noiseBlocks(region.left, region.top, region.columns, region.rows)
  const response = lineResponse(frame, blocks, {
    light: tones.includes('light'),
    dark: tones.includes('dark'),
  })
  return tones.map((tone) => {
    const best = (tone === 'light' ? response.light : response.dark)!
    const inverseOf = (direction: number, row: number, column: number): number =>
      response.inverse[direction]![
        blocks.rowOf(row) * blocks.across + Math.floor((column - responsePad) / noiseSide)
      ]!
    return {
      tone,
      points: ridgePoints({
        frame,
        known,
        response,
        best,
        region,
        core,
        sign: tone === 'light' ? 1 : -1,
        inverseOf,
      }),
    }
  })
}

/** What responses must be known in: the squares of noise that the window touches, and those beside them. */
function regionAbout(core: LevelWindow, whole: { columns: number; rows: number }): LevelWindow {
  const low = (start: number): number => Math.max(0, (Math.floor((start - 2) / noiseSide) - 1) * noiseSide)
  const high = (end: number, most: number): number =>
    Math.min(most, (Math.floor((end + 1) / noiseSide) + 2) * noiseSide)
  const [left, top] = [low(core.left), low(core.top)]
  return {
    left,
    top,
    columns: high(core.left + core.columns, whole.columns) - left,
    rows: high(core.top + core.rows, whole.rows) - top,
  }
}

/** The region flattened, with as much about it as there is in the image, and 0 beyond; `known` is 1 where the image has data. */
function paddedFlat(
  source: LevelSource,
  level: number,
  region: LevelWindow,
  leastSpread: number,
): { readonly frame: PaddedFrame; readonly known: Uint8Array } {
  const whole = sizeAt(source, level)
  const reach = flattenReach + responsePad
  const left = Math.max(0, region.left - reach)
  const top = Math.max(0, region.top - reach)
  const window = {
    left,
    top,
    columns: Math.min(whole.columns, region.left + region.columns + reach) - left,
    rows: Math.min(whole.rows, region.top + region.rows + reach) - top,
  }
  const seen = source.read(level, window)
  const flat = flatten(seen, leastSpread)
  const columns = region.columns + 2 * responsePad
  const rows = region.rows + 2 * responsePad
  const values = new Float32Array(columns * rows)
  const known = new Uint8Array(columns * rows)
  const [right, down] = [region.left - responsePad - left, region.top - responsePad - top]
  const [from, to] = [Math.max(0, right), Math.min(window.columns, right + columns)]
  for (let row = Math.max(0, down); row < Math.min(window.rows, down + rows); row++) {
    const start = (row - down) * columns + from - right
    const [first, end] = [row * window.columns + from, row * window.columns + to]
    values.set(flat.values.subarray(first, end), start)
    for (let i = first; i < end; i++) known[start + i - first] = Number.isNaN(seen.values[i]!) ? 0 : 1
  }
  return { frame: { columns, rows, values }, known }
}

interface Search {
  readonly frame: PaddedFrame
  readonly known: Uint8Array
  readonly response: LineResponse
  readonly best: BestResponse
  readonly region: LevelWindow
  readonly core: LevelWindow
  readonly sign: 1 | -1
  readonly inverseOf: (direction: number, row: number, column: number) => number
}

function ridgePoints(search: Search): LinePoints {
  const { frame, known, best, region, core } = search
  const { columns } = frame
  const { strength, direction } = best
  const [down, right] = [core.top - region.top + responsePad, core.left - region.left + responsePad]
  const found = new GrowingPoints()
  for (let row = down; row < down + core.rows; row++) {
    for (let column = right; column < right + core.columns; column++) {
      const i = row * columns + column
      const middle = strength[i]!
      if (middle < leastStrength) continue
      const { cos, sin } = lineDirections[direction[i]!]!
      const before = between(strength, columns, column + sin, row - cos)
      if (before > middle) continue
      const after = between(strength, columns, column - sin, row + cos)
      if (after >= middle) continue
      // Where the ground to one side is not there, as along the border of an image on a slope, nothing tells a line from an end of data.
      const [aside, ahead] = [Math.round(sideReach * sin), Math.round(sideReach * cos) * columns]
      if (known[i + aside - ahead] === 0 || known[i - aside + ahead] === 0) continue
      // The top of a parabola through three values across the line (the curve points of Steger 1998, IEEE PAMI 20, 113 to 125, on this response).
      const off = Math.max(
        -0.6,
        Math.min(0.6, (after - before) / (2 * (2 * middle - before - after) + 1e-12)),
      )
      measured(search, found, i, row + off * cos, column - off * sin)
    }
  }
  return found.taken()
}

/** Writes a point: what is about it at its own place. */
function measured(
  { frame, response, best, region, sign, inverseOf }: Search,
  found: GrowingPoints,
  i: number,
  row: number,
  column: number,
): void {
  const { columns } = frame
  const { smooth, smoother } = response
  const direction = best.direction[i]!
  const { cos, sin } = lineDirections[direction]!
  const inverse = inverseOf(direction, Math.floor(i / columns), i % columns)
  const middle = between(smooth, columns, column, row)
  const narrow = sign * bend(smooth, columns, row, column, direction) * lineScale ** 2
  const to = found.next()
  const { values } = found
  values[to + at.x] = column - responsePad + region.left + 0.5
  values[to + at.y] = row - responsePad + region.top + 0.5
  values[to + at.direction] = direction
  values[to + at.strength] = best.strength[i]!
  values[to + at.local] = narrow * inverse
  values[to + at.narrow] = narrow
  values[to + at.wide] = sign * bend(smoother, columns, row, column, direction) * widerScale ** 2
  for (const side of [1, -1] as const) {
    let beside = 0
    for (let along = -4; along <= 4; along += 4)
      beside += between(
        smooth,
        columns,
        column + side * sideReach * sin + along * cos,
        row - side * sideReach * cos + along * sin,
      )
    values[to + (side === 1 ? at.left : at.right)] = sign * (middle - beside / 3)
  }
}

/** Minus the second difference across a direction. */
function bend(soft: Float32Array, columns: number, row: number, column: number, direction: number): number {
  const { cos, sin } = lineDirections[direction]!
  const before = between(soft, columns, column + sin, row - cos)
  const after = between(soft, columns, column - sin, row + cos)
  return 2 * between(soft, columns, column, row) - before - after
}

/** Bilinear; x and y from the middle of the first pixel. */
function between(values: Float32Array, columns: number, x: number, y: number): number {
  const [left, top] = [Math.floor(x), Math.floor(y)]
  const [u, v] = [x - left, y - top]
  const i = top * columns + left
  const upper = values[i]! + u * (values[i + 1]! - values[i]!)
  const lower = values[i + columns]! + u * (values[i + columns + 1]! - values[i + columns]!)
  return upper + v * (lower - upper)
}

/** Points as they are found. */
class GrowingPoints {
  #values = new Float32Array(1024 * pointStride)
  #length = 0

  /** Makes room for one more; where to write it is `values` from the number given on. */
  next(): number {
    if (this.#length === this.#values.length) {
      const more = new Float32Array(2 * this.#values.length)
      more.set(this.#values)
      this.#values = more
    }
    this.#length += pointStride
    return this.#length - pointStride
  }

  get values(): Float32Array {
    return this.#values
  }

  taken(): Float32Array {
    return this.#values.slice(0, this.#length)
  }
}
