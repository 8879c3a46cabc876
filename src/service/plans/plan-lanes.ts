import type { LaneWishesGiven } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import { type PlanarArea, polygonArea } from '#core/geometry'
import { inWorker } from '#work'
import { type LanesOf, lanesOf } from '../lanes.ts'
import type { PlanInput } from './plan-worker.ts'

/** Metres of lanes from which the sum goes to a thread: below, it takes less time than a thread takes to start. */
const longM = 300_000

/** `lanesOf`, away from the main thread where it is long. Faults also: SurveyError 'cancelled' after `signal`. */
export function planLanes(
  area: PlanarArea,
  grid: PlanarGrid,
  wishes: LaneWishesGiven,
  signal?: AbortSignal,
): LanesOf | Promise<LanesOf> {
  const areaM2 = area.polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0)
  if (areaM2 / wishes.spacingM < longM) return lanesOf(area, grid, wishes)
  const input: PlanInput = { area, wishes }
  const script = new URL('./plan-worker.ts', import.meta.url)
  return inWorker<LanesOf>(script, input, signal ? { signal } : {})
}
