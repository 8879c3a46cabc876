import type { BearingFrom, LanePattern, PlannedSweep, PlanPreview, PlanWishesGiven } from '#contract'
import { usualPace } from '#core/lanes'
import { deskApi } from '../api/desk-api.ts'
import { knownList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { createStore } from '../state/store.ts'

/** What is asked of the lanes, as the form has it. */
export interface LaneForm {
  readonly areaId: number | null
  readonly spacingM: number
  /** Null for the fewest turns, and while one is still to be read or drawn. */
  readonly bearing: number | null
  readonly bearingFrom: BearingFrom
  /** The layer that it is read from, where it is; null for the first that will do. */
  readonly bearingLayer: number | null
  readonly pattern: LanePattern
  /** Where the walk starts or the spiral has its middle: a target, a place, or null for where it comes to be by itself. */
  readonly start: number | readonly [number, number] | null
  /** Null for as far as the area goes. */
  readonly radiusM: number | null
  readonly keepClearM: number
  readonly overHazards: boolean
  readonly walkers: number
  readonly speedMs: number
  readonly restMin: number
  /** Null for today. */
  readonly day: string | null
  readonly sweep: PlannedSweep
}

export const byTurns: BearingFrom = { by: 'turns', layer: null, spreadDeg: null }

/** Common practice: a sweep of 1.5 m, lanes closer than that, one crossing a second, a coil of some 0.28 m. */
export const laneForm = createStore<LaneForm>({
  areaId: null,
  spacingM: 1.2,
  bearing: null,
  bearingFrom: byTurns,
  bearingLayer: null,
  pattern: 'parallel',
  start: null,
  radiusM: null,
  keepClearM: 0,
  overHazards: false,
  walkers: 1,
  speedMs: usualPace.sweepMs,
  restMin: usualPace.restMin,
  day: null,
  sweep: { swathM: 1.5, coilM: 0.28, rateHz: 1, scatterM: 10 },
})

export function changeForm(change: Partial<LaneForm>): void {
  laneForm.set((now) => ({ ...now, ...change }))
}

export function changeSweep(change: Partial<PlannedSweep>): void {
  laneForm.set((now) => ({ ...now, sweep: { ...now.sweep, ...change } }))
}

export interface PreviewState {
  readonly working: boolean
  readonly preview: PlanPreview | null
  readonly fault: string | null
}
const nothing: PreviewState = { working: false, preview: null, fault: null }
export const previewState = createStore<PreviewState>(nothing)

/** The kept plan whose lanes the map shows; null for the lanes being planned. */
export const openPlan = createStore<number | null>(null)

/** How many lanes the map shows now, for the legend. */
export const shownLaneCount = createStore(0)

/** What the next click on the map is for; null while it chooses. */
export const wantedClick = createStore<'target' | 'line' | 'start' | null>(null)

export function wishesOf({ areaId, speedMs, restMin, start, ...form }: LaneForm): PlanWishesGiven | null {
  if (areaId === null) return null
  const { bearingLayer: _layer, ...asked } = form
  const spiral = form.pattern === 'spiral'
  const bearing = spiral ? null : form.bearing
  const target = knownList('targets').find(({ id }) => id === start)
  const place = typeof start === 'object' ? start : null
  const from: [number, number] | null = target
    ? [target.easting, target.northing]
    : place && [place[0], place[1]]
  return {
    ...asked,
    bearing,
    bearingFrom: spiral ? null : bearing === null ? byTurns : form.bearingFrom,
    from,
    radiusM: spiral ? form.radiusM : null,
    areaId,
    pace: { ...usualPace, sweepMs: speedMs, restMin },
  }
}

let asked = new AbortController()

/** Works the lanes out anew; an answer that is still under way is dropped. */
export async function previewLanes(form: LaneForm): Promise<void> {
  asked.abort()
  asked = new AbortController()
  const { signal } = asked
  const wishes = wishesOf(form)
  if (!wishes) {
    previewState.set(nothing)
    return
  }
  previewState.set((now) => ({ ...now, working: true, fault: null }))
  try {
    const preview = await deskApi.previewPlan(wishes, signal)
    if (!signal.aborted) previewState.set({ working: false, preview, fault: null })
  } catch (error) {
    if (!signal.aborted) previewState.set({ working: false, preview: null, fault: sentenceOf(error) })
  }
}

/** Forgets what belonged to the survey that was open. */
export function forgetLanes(): void {
  asked.abort()
  previewState.set(nothing)
  openPlan.set(null)
  wantedClick.set(null)
  changeForm({ areaId: null, start: null, bearing: null, bearingFrom: byTurns, bearingLayer: null })
}
