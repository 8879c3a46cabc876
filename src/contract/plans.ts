import * as z from 'zod'
import { landClashShape } from './land.ts'
import { laneFiguresShape, laneLightShape, laneWishesShape } from './lanes.ts'

/** How the ground is swept, for the chances that are told beside a plan. Metres, sweeps a second. */
export const plannedSweepShape = z.strictObject({
  swathM: z.number().positive().lte(20),
  coilM: z.number().positive().lte(5),
  rateHz: z.number().positive().lte(10),
  scatterM: z.number().nonnegative().lte(10_000),
})
export type PlannedSweep = z.infer<typeof plannedSweepShape>

/** POST /api/plans/preview: lanes of one search area. */
export const planWishesShape = laneWishesShape.extend({
  areaId: z.number().int(),
  /** The day they are to be walked; null for today. */
  day: z.iso.date().nullable().default(null),
  sweep: plannedSweepShape.nullable().default(null),
})
export type PlanWishes = z.output<typeof planWishesShape>
export type PlanWishesGiven = z.input<typeof planWishesShape>

/** One lane in the survey's grid: easting, northing, easting, northing … to the centimetre. Walkers and numbers count from 1. */
export const plannedLaneShape = z.object({
  walker: z.number().int(),
  number: z.number().int(),
  lengthM: z.number(),
  xy: z.array(z.number()),
})
export type PlannedLane = z.infer<typeof plannedLaneShape>

export const planLightShape = laneLightShape.extend({
  /** From now until the end of civil twilight; null on another day than today, and where it does not get dark. */
  leftHours: z.number().nullable(),
})
export type PlanLight = z.infer<typeof planLightShape>

export const planPreviewShape = z.object({
  figures: laneFiguresShape,
  lanes: z.array(plannedLaneShape),
  /** The walk from lane to lane, each as pairs like a lane's. */
  ways: z.array(z.array(z.number())),
  light: planLightShape,
  clashes: z.array(landClashShape),
  /** What the permissions say of the day, one sentence each; none where one is open. */
  leave: z.array(z.string()),
})
export type PlanPreview = z.infer<typeof planPreviewShape>

export const planShape = z.object({
  id: z.number().int(),
  name: z.string(),
  areaId: z.number().int(),
  areaName: z.string(),
  /** Null where another program changed them to what is not understood. */
  wishes: planWishesShape.nullable(),
  figures: laneFiguresShape.nullable(),
  clashes: z.array(z.string()),
  lanes: z.number().int(),
  madeAt: z.string().nullable(),
})
export type Plan = z.infer<typeof planShape>

const planName = z.string().trim().min(1).max(200)
/** POST /api/plans */
export const newPlanShape = z.strictObject({ name: planName, wishes: planWishesShape })
export type NewPlan = z.input<typeof newPlanShape>
/** PATCH /api/plans/:id */
export const planEditShape = z.strictObject({ name: planName })

/** What a handheld can hold of a name: characters, and whether accents must go. */
export const nameLimitsShape = z.object({
  length: z.coerce.number().int().min(1).max(255),
  ascii: z.boolean(),
})
export type NameLimitsGiven = z.input<typeof nameLimitsShape>
/** Names are cut to this where nothing else is asked for. */
export const usualNameLength = 30
