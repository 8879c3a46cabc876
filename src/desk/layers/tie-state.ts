import { createStore } from '../state/store.ts'

/** The picture being placed by tie points; null for none. */
export const placedLayer = createStore<number | null>(null)

export function placeByPoints(id: number): void {
  placedLayer.set(id)
}
