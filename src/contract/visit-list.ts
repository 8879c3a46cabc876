import * as z from 'zod'
import { visitCoverViewShape } from './visits.ts'

const optionalText = z.string().max(1000).nullable()

/** What a person says of a visit. Null: not told, and then the survey's setting or the default of the sum stands in. */
const visitFactsShape = z.object({
  /** 2026-09-12 */
  day: z
    .string()
    .regex(/^\d{4}-\d\d-\d\d$/, 'a day such as 2026-09-12')
    .nullable(),
  person: z.string().max(200).nullable(),
  swathM: z.number().gt(0).lte(20).nullable(),
  coilM: z.number().gt(0).lte(5).nullable(),
  rateHz: z.number().gt(0).lte(10).nullable(),
  errorM: z.number().gte(0).lte(100).nullable(),
  ownChance: z.number().gt(0).lte(1).nullable(),
  /** Seconds to add to the times of its tracks; a day at most. */
  clockOffsetS: z.number().gte(-86_400).lte(86_400),
  /** Leaves out what looks driven. */
  cutDrives: z.boolean(),
  weather: optionalText,
  ground: optionalText,
})

/** GET /api/visits. Times ISO 8601 UTC, as the receivers told them. */
export const visitShape = visitFactsShape.extend({
  id: z.number().int(),
  uuid: z.string(),
  /** The day or 'Without a date'. */
  name: z.string(),
  tracks: z.array(z.number().int()),
  findspots: z.number().int(),
  start: z.string().nullable(),
  end: z.string().nullable(),
})
export type Visit = z.infer<typeof visitShape>

/** PATCH /api/visits/:id: any of the facts, and nothing else. */
export const visitEditShape = visitFactsShape.partial().strict()
export type VisitEdit = z.infer<typeof visitEditShape>

/** PUT /api/tracks/:id/visit: null makes a visit of its own. */
export const trackVisitShape = z.strictObject({ visit: z.number().int().nullable() })

/** PUT /api/tracks/:id/walked */
export const trackWalkedShape = z.strictObject({ walked: z.boolean() })

/** POST /api/visits/chances: which visits, null for all; gaps are the ground below `gapChance`. */
export const chancesWishShape = z.strictObject({
  only: z.array(z.number().int()).min(1).nullable(),
  gapChance: z.number().gt(0).lte(1),
  /** Walks to simulate for the spread of the covered share; null for none. */
  simulations: z.number().int().gte(1).lte(1000).nullable(),
  seed: z.number().int().gte(0).lte(0xffff_ffff),
})
export type ChancesWish = z.infer<typeof chancesWishShape>

/** GET /api/visits/chances?of=1,2: the chances last worked out for those visits, or for all; null where none were. */
export const chancesViewShape = z.object({
  id: z.string(),
  madeAt: z.string(),
  wish: chancesWishShape,
  /** True when ground, tracks or the settings of these visits have changed since. */
  stale: z.boolean(),
  /** False where only the figures were kept, not the map. */
  surface: z.boolean(),
  cover: visitCoverViewShape,
})
export type ChancesView = z.infer<typeof chancesViewShape>

/** GET /api/visits/chances/kept: figures of every choice of visits whose chances were kept, the newest last. */
export const chancesSummaryShape = z.object({
  only: z.array(z.number().int()).nullable(),
  madeAt: z.string(),
  gapChance: z.number(),
  stale: z.boolean(),
  expectedShare: z.number(),
  share50: z.number(),
  share80: z.number(),
  share95: z.number(),
  gaps: z.object({ count: z.number().int(), areaM2: z.number() }),
  /** What each visit comes to on its own, by its number. */
  visits: z.array(z.object({ id: z.number().int(), expectedShare: z.number() })),
})
export type ChancesSummary = z.infer<typeof chancesSummaryShape>

/** POST /api/visits/chances/area: the gaps of that size or more as a search area. */
export const gapsAreaShape = z.strictObject({
  name: z.string().min(1).max(200),
  leastM2: z.number().gte(0),
  /** Of the chances of these visits; null for all. */
  only: z.array(z.number().int()).min(1).nullable().default(null),
})
export type GapsArea = z.infer<typeof gapsAreaShape>

/** GET /api/visits/:id/account: what cleaning says of a visit, and how cover and finds grew. Metres, seconds. */
export const visitAccountShape = z.object({
  id: z.number().int(),
  fixes: z.number().int(),
  kept: z.number().int(),
  /** Fixes left out, by reason. */
  rejected: z.record(z.string(), z.number().int()),
  /** Breaks, by cause. */
  breaks: z.record(z.string(), z.number().int()),
  distanceM: z.number(),
  walkingS: z.number().nullable(),
  stoppedS: z.number().nullable(),
  stops: z.number().int(),
  drives: z.object({ count: z.number().int(), metres: z.number() }),
  medianErrorM: z.number().nullable(),
  /** Above it the coil leaves ground out straight ahead; null where coil or rate are not told. */
  safeMS: z.number().nullable(),
  /** Metres and seconds walked above it; null also without times. */
  tooFastM: z.number().nullable(),
  tooFastS: z.number().nullable(),
  /** Seconds walked in each step of speed from 0 up, the last one open; empty without times. */
  speeds: z.object({ stepMS: z.number(), seconds: z.array(z.number()) }),
  /** Moments of the visit, seconds from its start: share of the search area covered by then, and finds. Empty without times. */
  growth: z.array(z.object({ atS: z.number(), share: z.number(), finds: z.number().int() })),
  notes: z.array(z.string()),
})
export type VisitAccount = z.infer<typeof visitAccountShape>
