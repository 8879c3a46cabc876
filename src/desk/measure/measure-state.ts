import type { Position } from '../api/desk-api.ts'
import { cardsInFront } from '../state/desk-state.ts'
import { createStore } from '../state/store.ts'
import { isRoomy } from '../state/wide.ts'

/** A line being measured; closed, it is a figure and its first point follows the last. Points in the survey's grid. */
export interface Measure {
  readonly points: readonly Position[]
  readonly closed: boolean
}

export type Leg = readonly [from: Position, to: Position]

const nothing: Measure = { points: [], closed: false }

/** Null while nothing is measured. */
export const measure = createStore<Measure | null>(null)

/** Two points nearer than this, metres, are one: a double click sets one point. */
const samePlaceM = 0.005

/** Begins to measure: the next clicks on the map are its points. */
export function startMeasure(points: readonly Position[] = []): void {
  measure.set({ points, closed: false })
  cardsInFront.set(true)
}

export function endMeasure(): void {
  measure.set(null)
}

/** Begins to measure, ends it, or brings its card back where the panel has come before it. */
export function toggleMeasure(): void {
  if (measure.get() === null) startMeasure()
  else if (isRoomy() || cardsInFront.get()) endMeasure()
  else cardsInFront.set(true)
}

/** Forgets the points and goes on measuring. */
export function clearMeasure(): void {
  measure.set((now) => now && nothing)
}

/** Measure with one more point; a point set where the last one is changes nothing, and one after a closed figure begins anew. */
function withPoint({ points, closed }: Measure, point: Position): Measure {
  if (closed) return { points: [point], closed: false }
  const [e = Infinity, n = Infinity] = points.at(-1) ?? []
  if (Math.hypot(point[0] - e, point[1] - n) < samePlaceM) return { points, closed }
  return { points: [...points, point], closed }
}

export function addPoint(point: Position): void {
  measure.set((now) => now && withPoint(now, point))
}

/** True when the points can be closed to a figure. */
export function mayClose({ points, closed }: Measure): boolean {
  return !closed && points.length >= 3
}

/** Closes the figure, if it has points enough. */
export function closeFigure(): void {
  measure.set((now) => (now && mayClose(now) ? { ...now, closed: true } : now))
}

/** Opens a closed figure again, else takes the last point back. */
export function takeBackPoint(): void {
  measure.set(
    (now) => now && (now.closed ? { ...now, closed: false } : { ...now, points: now.points.slice(0, -1) }),
  )
}

/** From each point to the next, and of a closed figure from the last to the first. */
export function legsOf({ points, closed }: Measure): Leg[] {
  const ends = closed ? [...points.slice(1), points[0]!] : points.slice(1)
  return ends.map((to, i) => [points[i]!, to])
}
