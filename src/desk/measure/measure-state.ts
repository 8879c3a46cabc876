import type { Position } from '../api/desk-api.ts'
import { bringCard, cardsInFront } from '../state/desk-state.ts'
import { createStore } from '../state/store.ts'
import { isRoomy } from '../state/wide.ts'
import { type Measure, mayClose, withoutLast, withPoint } from './measured-line.ts'

/** Null while nothing is measured. */
export const measure = createStore<Measure | null>(null)

/** Begins to measure: the next clicks on the map are its points. */
export function startMeasure(points: readonly Position[] = []): void {
  measure.set({ points, closed: false })
  bringCard('measure')
}

export function endMeasure(): void {
  measure.set(null)
}

/** Begins to measure, ends it, or brings its card back where the panel has come before it. */
export function toggleMeasure(): void {
  if (measure.get() === null) startMeasure()
  else if (isRoomy() || cardsInFront.get()) endMeasure()
  else bringCard('measure')
}

/** Changes what is being measured, if anything is. */
function change(changed: (now: Measure) => Measure): void {
  measure.set((now) => now && changed(now))
}

/** Forgets the points and goes on measuring. */
export function clearMeasure(): void {
  change(() => ({ points: [], closed: false }))
}

export function addPoint(point: Position): void {
  change((now) => withPoint(now, point))
}

/** Closes the figure, if it has points enough. */
export function closeFigure(): void {
  change((now) => (mayClose(now) ? { ...now, closed: true } : now))
}

/** Opens a closed figure again, else takes the last point back. */
export function takeBackPoint(): void {
  change(withoutLast)
}
