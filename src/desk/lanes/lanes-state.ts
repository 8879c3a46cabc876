import type { LanePattern, PlannedSweep, PlanPreview, PlanWishesGiven } from '#contract'
import { usualPace } from '#core/lanes'
import { deskApi } from '../api/desk-api.ts'
import { sentenceOf } from '../api/request.ts'
import { createStore } from '../state/store.ts'

/** What is asked of the lanes, as the form has it. */
export interface LaneForm {
  readonly areaId: number | null
  readonly spacingM: number
  /** Null for the fewest turns. */
  readonly bearing: number | null
  readonly pattern: LanePattern
  readonly walkers: number
  readonly speedMs: number
  readonly restMin: number
  /** Null for today. */
  readonly day: string | null
  readonly sweep: PlannedSweep
}

/** Common practice: a sweep of 1.5 m, lanes closer than that, one crossing a second, a coil of some 0.28 m. */
export const laneForm = createStore<LaneForm>({
  areaId: null,
  spacingM: 1.2,
  bearing: null,
  pattern: 'parallel',
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

/** True while the next click on the map makes a target. */
export const targetByClick = createStore(false)

export function wishesOf({ areaId, speedMs, restMin, ...form }: LaneForm): PlanWishesGiven | null {
  if (areaId === null) return null
  const bearing = form.pattern === 'spiral' ? null : form.bearing
  return { ...form, bearing, areaId, pace: { ...usualPace, sweepMs: speedMs, restMin } }
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
  targetByClick.set(false)
  changeForm({ areaId: null })
}
