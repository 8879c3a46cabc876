import type {
  NameLimitsGiven,
  NewPlan,
  Plan,
  PlanLight,
  PlannedLane,
  PlanPreview,
  PlanWishesGiven,
} from '#contract'
import type { MadeFile } from '../desk-service.ts'

/** What the desk can ask of plans. Planar values are in the survey's grid. Faults are SurveyErrors. */
export interface PlanService {
  /** Lanes of a search area as they would be; nothing is kept. Faults: 'not-found', and those of `lanesOf`. */
  preview(wishes: PlanWishesGiven, signal?: AbortSignal): Promise<PlanPreview>
  list(): Plan[]
  lanes(id: number): PlannedLane[]
  /** Works the lanes out and keeps them with what they clash with. */
  keep(plan: NewPlan): Promise<Plan>
  rename(id: number, name: string): Plan
  remove(id: number): void
  /** The light of a day (null: today) at the middle of the survey. Faults: 'no-area' while it does not know where it lies. */
  light(day: string | null): PlanLight
  /** A plan's targets and lanes for a handheld: GPX with names cut to `names`. */
  handheld(id: number, names: NameLimitsGiven): MadeFile
}
