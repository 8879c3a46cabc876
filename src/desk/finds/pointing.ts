import { createStore } from '../state/store.ts'

type Take = (place: readonly [number, number]) => void

/** Who takes the next place that is clicked on the map: easting and northing; null while nobody asks. */
export const pointing = createStore<Take | null>(null)
