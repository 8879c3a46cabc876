import type { Constraint, ConstraintSet } from '#contract'
import type { Shape } from '#core/constraint'
import type { PlanarGrid } from '#core/geodesy'
import type { Polygon } from '#core/geometry'
import type { ConstraintFacts, LandShape, PlacedContent, StoredConstraint } from '#store'
import { projected, projectedPolygons } from '../projecting.ts'
import { nested } from '../views.ts'

const pairs = (xy: Float64Array): [number, number][] =>
  Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i]!, xy[2 * i + 1]!])

/** Constraints of all that a file holds, in WGS84: ground, each stretch of a line, places. */
export function constraintsOf(
  { areas, tracks, findspots }: PlacedContent,
  kind: string,
  bufferM: number,
): ConstraintFacts[] {
  let unnamed = 0
  const facts = (name: string | null, shape: LandShape): ConstraintFacts => {
    if (name === null || name.trim() === '') unnamed += 1
    return { name: name?.trim() || `No. ${unnamed}`, kind, bufferM, shape }
  }
  return [
    ...areas.map(({ recorded: { name, polygons } }) => facts(name, { type: 'polygons', polygons })),
    ...tracks.flatMap(({ recorded: { name, xy, segmentStart } }) =>
      Array.from(segmentStart, (from, i) => xy.slice(2 * from, 2 * (segmentStart[i + 1] ?? xy.length / 2)))
        .filter(({ length }) => length >= 4)
        .map((line) => facts(name, { type: 'line', xy: line })),
    ),
    ...findspots.map(({ recorded: { name, x, y } }) => facts(name, { type: 'point', lon: x, lat: y })),
  ]
}

/** A shape in a grid; parts that it does not wholly reach are left out. */
export function planarShape(shape: LandShape, grid: PlanarGrid): Shape {
  const none = { polygons: [] as Polygon[], lines: [] as Float64Array[], points: new Float64Array(0) }
  const whole = (xy: Float64Array): boolean => !xy.some(Number.isNaN)
  if (shape.type === 'polygons') {
    const polygons = projectedPolygons(shape.polygons, grid.forward)
    return { ...none, polygons: polygons.filter(({ rings }) => rings.every(whole)) }
  }
  const xy = projected(shape.type === 'line' ? shape.xy : Float64Array.of(shape.lon, shape.lat), grid.forward)
  if (!whole(xy)) return none
  return shape.type === 'line' ? { ...none, lines: [xy] } : { ...none, points: xy }
}

function constraintView({ id, name, shape }: StoredConstraint, grid: PlanarGrid): Constraint {
  const { polygons, lines, points } = planarShape(shape, grid)
  const line = lines[0]
  return {
    id,
    name,
    polygons: nested(polygons),
    line: line === undefined ? null : pairs(line),
    point: points.length === 0 ? null : [points[0]!, points[1]!],
  }
}

/** Constraints by the file that they came in; those that another program put in are one set, 0. */
export function constraintSets(stored: readonly StoredConstraint[], grid: PlanarGrid): ConstraintSet[] {
  const sets = new Map<number, StoredConstraint[]>()
  for (const constraint of stored) {
    const id = constraint.originalId ?? 0
    sets.set(id, [...(sets.get(id) ?? []), constraint])
  }
  return [...sets].map(([id, members]) => {
    const { sourceName, kind, bufferM } = members[0]!
    const constraints = members.map((member) => constraintView(member, grid))
    return { id, source: sourceName ?? 'Drawn in another program', kind, bufferM, constraints }
  })
}
