import { type Bounds, boundsOf, emptyBounds, joinBounds, type Polygon } from '#core/geometry'

/** Any shape on the ground, in one planar grid, metres. */
export interface Shape {
  readonly polygons: readonly Polygon[]
  /** Interleaved pairs of each line. */
  readonly lines: readonly Float64Array[]
  /** Interleaved pairs. */
  readonly points: Float64Array
}

export const noShape: Shape = { polygons: [], lines: [], points: new Float64Array(0) }

/** Calls back for each segment of a shape: edges of polygons, legs of lines, points as segments of no length. */
export function eachSegment(
  { polygons, lines, points }: Shape,
  visit: (ax: number, ay: number, bx: number, by: number) => void,
): void {
  const along = (xy: Float64Array): void => {
    if (xy.length === 2) visit(xy[0]!, xy[1]!, xy[0]!, xy[1]!)
    for (let i = 0; i + 3 < xy.length; i += 2) visit(xy[i]!, xy[i + 1]!, xy[i + 2]!, xy[i + 3]!)
  }
  for (const { rings } of polygons) for (const ring of rings) along(ring)
  for (const line of lines) along(line)
  for (let i = 0; i + 1 < points.length; i += 2) visit(points[i]!, points[i + 1]!, points[i]!, points[i + 1]!)
}

/** The first place of each part of a shape: a part that meets nothing lies inside a polygon wholly if this does. */
export function firstPlaces({ polygons, lines, points }: Shape): [number, number][] {
  const parts = [...polygons.flatMap(({ rings }) => rings.slice(0, 1)), ...lines]
  const places = parts.filter(({ length }) => length >= 2).map(([x, y]): [number, number] => [x!, y!])
  for (let i = 0; i + 1 < points.length; i += 2) places.push([points[i]!, points[i + 1]!])
  return places
}

export function shapeBounds({ polygons, lines, points }: Shape): Bounds {
  const parts = [...polygons.flatMap(({ rings }) => rings), ...lines, points]
  return parts.map(boundsOf).reduce(joinBounds, emptyBounds)
}
