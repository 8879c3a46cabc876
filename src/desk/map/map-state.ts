import { createStore } from '../state/store.ts'
import type { Plan } from './plan.ts'
import type { PlanBounds } from './plan-handlers.ts'

/** The map, once it stands. */
export const plan = createStore<Plan | null>(null)

/** Where the map has come to rest; null before it has. */
export const mapView = createStore<{
  readonly centre: readonly number[]
  readonly metresPerPixel: number
} | null>(null)

/** The place under the pointer; null while it is off the map. */
export const pointed = createStore<readonly number[] | null>(null)

export function goTo(bounds: PlanBounds | null): void {
  if (bounds) plan.get()?.goTo(bounds)
}

/** Bounds of places: west, south, east, north. */
export function boundsOfPositions(places: readonly (readonly [number, number])[]): PlanBounds {
  const [eastings, northings] = [places.map(([e]) => e), places.map(([, n]) => n)]
  return [Math.min(...eastings), Math.min(...northings), Math.max(...eastings), Math.max(...northings)]
}

/** Bounds of polygons: west, south, east, north. */
export function boundsOfPolygons(
  polygons: readonly (readonly (readonly [number, number])[])[][],
): PlanBounds {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [outer = []] of polygons) {
    for (const [x, y] of outer) {
      west = Math.min(west, x)
      south = Math.min(south, y)
      east = Math.max(east, x)
      north = Math.max(north, y)
    }
  }
  return [west, south, east, north]
}
