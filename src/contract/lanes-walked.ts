import * as z from 'zod'

/** Asked of the lanes of a plan: which were walked. */
export const lanesWalkedWishShape = z.strictObject({
  /** Null for the plan that the visits lie in most. */
  plan: z.number().int().nullable(),
  /** Only these visits; null for all. */
  only: z.array(z.number().int()).min(1).nullable(),
  /** Metres that a track may lie beside a lane; null for the larger of half the spacing and the error of a fix. */
  toleranceM: z.number().gt(0).lte(100).nullable(),
})
export type LanesWalkedWish = z.infer<typeof lanesWalkedWishShape>

const pairsShape = z.array(z.number())

/** POST /api/visits/lanes. Metres, in the survey's grid; lines as pairs. Nothing is changed by it. */
export const lanesWalkedShape = z.object({
  plan: z.number().int(),
  planName: z.string(),
  toleranceM: z.number(),
  /** Median error of the fixes along one axis. */
  errorM: z.number(),
  spacingM: z.number().nullable(),
  plannedM: z.number(),
  walkedM: z.number(),
  /** Median distance of fixes on lanes from them; null where none was on one. */
  offM: z.number().nullable(),
  lanes: z.array(
    z.object({
      /** Walkers and numbers count from 1. */
      walker: z.number().int(),
      number: z.number().int(),
      lengthM: z.number(),
      walkedM: z.number(),
      state: z.enum(['walked', 'part', 'skipped']),
      xy: pairsShape,
      /** The parts that no track ran along. */
      missed: z.array(z.object({ fromM: z.number(), toM: z.number(), xy: pairsShape })),
    }),
  ),
  /** Longer ways along no lane. */
  strayings: z.array(
    z.object({
      visit: z.number().int().nullable(),
      metres: z.number(),
      /** Farthest from the nearest lane. */
      offM: z.number(),
      start: z.string().nullable(),
      end: z.string().nullable(),
      xy: pairsShape,
    }),
  ),
  notes: z.array(z.string()),
})
export type LanesWalkedView = z.infer<typeof lanesWalkedShape>

/** POST /api/visits/lanes/area and /api/visits/lanes/plan: what was missed of those lanes as a search area, or as a plan of its own. */
export const missedLanesShape = z.strictObject({
  wish: lanesWalkedWishShape,
  name: z.string().trim().min(1).max(200),
})
export type MissedLanes = z.infer<typeof missedLanesShape>
