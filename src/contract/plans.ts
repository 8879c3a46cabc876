import * as z from 'zod'
import { bearingSources } from '#core/lanes'
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

/** How a bearing was come by; which layer, and by how many degrees its parts differ, where it was read from one. */
export const bearingFromShape = z.strictObject({
  by: z.enum(bearingSources),
  layer: z.string().max(200).nullable().default(null),
  spreadDeg: z.number().nonnegative().nullable().default(null),
})
export type BearingFrom = z.infer<typeof bearingFromShape>

/** POST /api/plans/bearing: the bearing that a layer shows over a search area. */
export const bearingWishesShape = z.strictObject({
  areaId: z.number().int(),
  layerId: z.number().int(),
  by: z.enum(['plough', 'contour']),
})
export type BearingWishes = z.infer<typeof bearingWishesShape>

/** What was read, degrees from grid north and degrees of slope. */
export const bearingFoundShape = z.object({
  /** Null where the layer shows none at all. */
  bearing: z.number().nullable(),
  spreadDeg: z.number().nullable(),
  slopeDeg: z.number().nullable(),
  /** False where it is too unsure to plan by. */
  clear: z.boolean(),
  text: z.string(),
})
export type BearingFound = z.infer<typeof bearingFoundShape>

/** POST /api/plans/preview: lanes of one search area. */
export const planWishesShape = laneWishesShape.extend({
  areaId: z.number().int(),
  /** How `bearing` was come by; null where nobody told. */
  bearingFrom: bearingFromShape.nullable().default(null),
  /** Metres kept clear of ground that is left out. */
  keepClearM: z.number().gte(0).lte(1000).default(0),
  /** True to lay lanes over hazards too. */
  overHazards: z.boolean().default(false),
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

/** The most layers that go out in one pack. */
const mostPackLayers = 20
/** What of the layers goes out in a walk pack: which, how long a picture may be, and how much ground about the plan they show. */
export const packWishesShape = z.object({
  layers: z.array(z.number().int()).max(mostPackLayers).default([]),
  sidePx: z.number().int().min(256).max(8192).default(2048),
  /** Of all pictures together, millions of bytes. */
  mostMb: z.number().positive().max(200).default(10),
  marginM: z.number().gte(0).lte(1000).default(20),
})
export type PackWishes = z.output<typeof packWishesShape>
export type PackWishesGiven = z.input<typeof packWishesShape>
