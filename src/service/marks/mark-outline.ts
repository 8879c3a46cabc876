import type { MarkOutline } from '#store'
import { projected } from '../projecting.ts'

/** Corners of the polygon that stands for a circle; it lies within 0.13 % of the diameter of it. */
const corners = 64

/** A circle as a closed ring, counter-clockwise, in the plane it is given in. */
export function circle(x: number, y: number, diameter: number): Float64Array {
  const xy = new Float64Array(2 * corners + 2)
  for (let i = 0; i <= corners; i++) {
    const angle = (2 * Math.PI * (i % corners)) / corners
    xy[2 * i] = x + (diameter / 2) * Math.cos(angle)
    xy[2 * i + 1] = y + (diameter / 2) * Math.sin(angle)
  }
  return xy
}

/** An outline with each of its pairs converted; NaN where the step does not reach. */
export function stepped(
  outline: MarkOutline,
  step: (input: Float64Array, out: Float64Array) => void,
): MarkOutline {
  if (outline.type === 'line') return { type: 'line', xy: projected(outline.xy, step) }
  const rings = outline.polygon.rings.map((ring) => projected(ring, step))
  return { type: 'polygon', polygon: { rings } }
}

/** The outer ring of an outline, or its line. */
export const lineOf = (outline: MarkOutline): Float64Array =>
  outline.type === 'line' ? outline.xy : outline.polygon.rings[0]!

/** Length of a line of places, in their unit. */
export function lineLength(xy: Float64Array): number {
  let sum = 0
  for (let i = 0; i + 3 < xy.length; i += 2) sum += Math.hypot(xy[i + 2]! - xy[i]!, xy[i + 3]! - xy[i + 1]!)
  return sum
}

/** The place half way along a line. */
export function lineMiddle(xy: Float64Array): readonly [x: number, y: number] {
  let left = lineLength(xy) / 2
  for (let i = 0; i + 3 < xy.length; i += 2) {
    const [x0, y0, dx, dy] = [xy[i]!, xy[i + 1]!, xy[i + 2]! - xy[i]!, xy[i + 3]! - xy[i + 1]!]
    const long = Math.hypot(dx, dy)
    if (long >= left && long > 0) return [x0 + (dx * left) / long, y0 + (dy * left) / long]
    left -= long
  }
  return [xy.at(-2)!, xy.at(-1)!]
}
