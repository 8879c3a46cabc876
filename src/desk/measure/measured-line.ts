import type { LineView } from '#contract'
import { polygonArea, validateArea } from '#core/geometry'
import type { Position } from '../api/desk-api.ts'

/** A line being measured; closed, it is a figure and its first point follows the last. Points in the survey's grid. */
export interface Measure {
  readonly points: readonly Position[]
  readonly closed: boolean
}

export type Leg = readonly [from: Position, to: Position]

/** Two points nearer than this, metres, are one: a double click sets one point. */
const samePlaceM = 0.005

/** The line with one more point; a point set where the last one is changes nothing, and one after a closed figure begins anew. */
export function withPoint({ points, closed }: Measure, point: Position): Measure {
  if (closed) return { points: [point], closed: false }
  const [e = Infinity, n = Infinity] = points.at(-1) ?? []
  if (Math.hypot(point[0] - e, point[1] - n) < samePlaceM) return { points, closed }
  return { points: [...points, point], closed }
}

/** A closed figure opened again, else the line without its last point. */
export function withoutLast({ points, closed }: Measure): Measure {
  return { points: closed ? points : points.slice(0, -1), closed: false }
}

/** True when the points can be closed to a figure. */
export function mayClose({ points, closed }: Measure): boolean {
  return !closed && points.length >= 3
}

/** From each point to the next, and of a closed figure from the last to the first. */
export function legsOf({ points, closed }: Measure): Leg[] {
  const ends = closed ? [...points.slice(1), points[0]!] : points.slice(1)
  return ends.map((to, i) => [points[i]!, to])
}

/** Lengths of all legs together, metres; null while one is not known. */
export function sumOfLegs(legs: readonly (LineView | null)[]): {
  readonly groundM: number | null
  readonly gridM: number | null
} {
  let [groundM, gridM] = [0, 0]
  for (const leg of legs) {
    if (leg === null) return { groundM: null, gridM: null }
    groundM += leg.groundM
    gridM += leg.gridM
  }
  return { groundM, gridM }
}

/** Area of a closed figure on the plane of the grid, square metres, or why it has none. */
export function figureArea(
  { points }: Measure,
  epsg: number,
): { readonly areaM2: number } | { readonly flaw: string } {
  const polygon = { rings: [Float64Array.from([...points, points[0]!].flat())] }
  const [flaw] = validateArea({ epsg, polygons: [polygon] }, 1)
  return flaw === undefined
    ? { areaM2: polygonArea(polygon) }
    : { flaw: `${flaw.text} So its area is not told.` }
}
