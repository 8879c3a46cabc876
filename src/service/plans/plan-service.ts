import type {
  BearingFound,
  BearingWishes,
  NameLimitsGiven,
  NewPlan,
  PackWishesGiven,
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
  /**
   * The bearing that a layer shows over a search area: of its plough lines, or of its contours; whether it is clear enough to plan by is told.
   * Faults: 'not-found', 'no-area'; 'setting-out-of-range' for contours of a picture, and for ground with too few pixels; those of the layer's tiles.
   */
  bearing(wishes: BearingWishes, signal?: AbortSignal): Promise<BearingFound>
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
  /** The walk pack of a plan, with the layers asked for: docs/reference/walk-pack.md. Faults also: those of `packPictures`. */
  pack(id: number, wishes?: PackWishesGiven, signal?: AbortSignal): Promise<MadeFile>
  /** A4 sheet of a plan: map, targets, cautions, an empty find list. */
  sheet(id: number): Promise<MadeFile>
}
