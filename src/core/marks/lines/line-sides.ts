import { thinLine } from '#core/geometry'
import type { MeasuredLine } from './measured-line.ts'

/** A straight piece of a line: from (x, y) on for `length` pixels. */
export interface LineSide {
  readonly line: MeasuredLine
  readonly x: number
  readonly y: number
  readonly cos: number
  readonly sin: number
  readonly length: number
  /** What each pixel of it speaks for a line. */
  readonly oddsAPixel: number
}

/** A piece may be bent by this much, pixels of the level. */
const straightWithin = 1.5

/** The straight pieces of lines that are at least `shortest` pixels long. */
export function lineSides(lines: readonly MeasuredLine[], shortest: number): LineSide[] {
  return lines.flatMap((line) => {
    const xy = thinLine(line.xy, straightWithin * 2 ** line.level)
    const sides: LineSide[] = []
    for (let i = 2; i < xy.length; i += 2) {
      const [x, y] = [xy[i - 2]!, xy[i - 1]!]
      const [dx, dy] = [xy[i]! - x, xy[i + 1]! - y]
      const length = Math.hypot(dx, dy)
      if (length < shortest) continue
      sides.push({
        line,
        x,
        y,
        cos: dx / length,
        sin: dy / length,
        length,
        oddsAPixel: line.logOdds / line.length,
      })
    }
    return sides
  })
}

/** Where a place lies seen from a side: along it and to its right, pixels. */
export function fromSide({ x, y, cos, sin }: LineSide, px: number, py: number): readonly [number, number] {
  const [dx, dy] = [px - x, py - y]
  return [dx * cos + dy * sin, dy * cos - dx * sin]
}

export function endsOf({ x, y, cos, sin, length }: LineSide): readonly (readonly [number, number])[] {
  return [
    [x, y],
    [x + length * cos, y + length * sin],
  ]
}

/** Angle between two sides, radians, 0 to a right angle. */
export function angleBetween(a: LineSide, b: LineSide): number {
  return Math.acos(Math.min(1, Math.abs(a.cos * b.cos + a.sin * b.sin)))
}
