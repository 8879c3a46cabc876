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
