import * as fc from 'fast-check'
import type { PlanarArea, Polygon } from '#core/geometry'

/** A ring whose corners go once round a centre, so that it cannot cross itself, at the corner distances given. */
export function starRing(x: number, y: number, radii: readonly number[], turn = 0): Float64Array {
  const corners = radii.map((r, i) => {
    const angle = turn + (2 * Math.PI * i) / radii.length
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)]
  })
  return Float64Array.from([...corners, corners[0]!].flat())
}

const length = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

/** Outlines of any shape about a centre, with up to two holes that keep clear of it and of each other. */
const anyPolygon = (x: number, y: number): fc.Arbitrary<Polygon> =>
  fc
    .tuple(
      fc.array(length(25, 50), { minLength: 3, maxLength: 24 }),
      length(0, 6.3),
      fc.array(fc.array(length(0.5, 5), { minLength: 3, maxLength: 8 }), { maxLength: 2 }),
      fc.boolean(),
    )
    .map(([radii, turn, holes, clockwise]) => {
      const outer = starRing(x, y, radii.length < 5 ? radii.map(() => 40) : radii, turn)
      const rings = [outer, ...holes.map((hole, h) => starRing(x + 12 * h - 6, y, hole, turn))]
      return { rings: clockwise ? rings.map(turned) : rings }
    })

function turned(ring: Float64Array): Float64Array {
  const out = new Float64Array(ring.length)
  for (let i = 0; i < ring.length; i += 2) out.set(ring.subarray(ring.length - 2 - i, ring.length - i), i)
  return out
}

/** One or two polygons apart from each other, far from the origin of the grid as fields are. */
export const anyArea: fc.Arbitrary<PlanarArea> = fc
  .tuple(anyPolygon(558_000, 347_000), fc.option(anyPolygon(558_130, 347_040), { nil: null }))
  .map(([first, second]) => ({ epsg: 27_700, polygons: second === null ? [first] : [first, second] }))

/** Distance from a place to the nearest of lines given as pairs with the first pair of each. */
export function nearestLineM(x: number, y: number, xy: Float64Array, start: Uint32Array): number {
  let best = Infinity
  for (let line = 0; line + 1 < start.length; line++)
    for (let p = start[line]!; p + 1 < start[line + 1]!; p++)
      best = Math.min(best, toSegment(x, y, xy[2 * p]!, xy[2 * p + 1]!, xy[2 * p + 2]!, xy[2 * p + 3]!))
  return best
}

/** Distance from a place to the nearest edge of an area. */
export function nearestEdgeM(x: number, y: number, { polygons }: PlanarArea): number {
  const rings = polygons.flatMap((polygon) => polygon.rings)
  return Math.min(...rings.map((ring) => nearestLineM(x, y, ring, Uint32Array.of(0, ring.length / 2))))
}

export function toSegment(x: number, y: number, ax: number, ay: number, bx: number, by: number): number {
  const square = (bx - ax) ** 2 + (by - ay) ** 2
  const t =
    square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square))
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay))
}
