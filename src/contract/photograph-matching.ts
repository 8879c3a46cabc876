import * as z from 'zod'

/** POST /api/photographs/look: what a picture says of itself. Never part of a public copy. */
export const photographMomentShape = z.strictObject({
  name: z.string().min(1).max(1000),
  /** SHA-256 of its bytes, in hexadecimal, by which one that is in the survey already is known; null where it was not worked out. */
  sha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .nullable(),
  /** By the camera's clock, without a zone: 2026-09-12T10:15:00. */
  takenLocal: z.iso.datetime({ local: true, offset: false }).nullable(),
  /** Zone of that clock as `+01:00`. */
  zone: z
    .string()
    .regex(/^[+-]\d\d:\d\d$/)
    .nullable(),
  /** Seconds since 1970-01-01 UTC by the satellites' clock, or by the camera's with its zone. */
  time: z.number().nullable(),
  /** WGS84 degrees, and the radius in metres that holds the place with some 68 %. */
  place: z
    .strictObject({ lat: z.number(), lon: z.number(), accuracyM: z.number().nonnegative().nullable() })
    .nullable(),
  camera: z.string().max(300).nullable(),
  /** What could not be read of it, one sentence each. */
  faults: z.array(z.string()),
})
export type PhotographMoment = z.infer<typeof photographMomentShape>

/** POST /api/photographs/match: nothing is changed by it. */
export const photographMatchWishShape = z.strictObject({
  photographs: z.array(photographMomentShape).max(2000),
  /** Seconds that the cameras' clocks are ahead of UTC by their zone, where a photograph tells none; null to find out. */
  zoneS: z.number().int().min(-50_400).max(50_400).nullable(),
  /** Seconds to add to the cameras' clocks beyond their zone. */
  clockS: z.number().min(-864_000_000).max(864_000_000),
  /** Farther off, nothing is matched. Metres, seconds. */
  withinM: z.number().positive().max(1000),
  withinS: z.number().positive().max(86_400),
})
export type PhotographMatchWish = z.infer<typeof photographMatchWishShape>

/** A find that a photograph may be attached to, or for null a new one at a findspot that has none. */
export const photographGoalShape = z.object({
  find: z.number().int().nullable(),
  findspot: z.number().int(),
  /** NST-2026-004, buckle */
  label: z.string(),
})
export type PhotographGoal = z.infer<typeof photographGoalShape>

export const photographMatchShape = z.object({
  /** `choose`: the person chooses one of `goals`. `attached`: it is a photograph of a find already. */
  state: z.enum(['matched', 'choose', 'none', 'attached']),
  /** Likeliest first; the first is taken where the state is `matched`. */
  goals: z.array(photographGoalShape),
  /** Why, in one sentence. */
  reason: z.string(),
  /** The time in UTC that was used, and the zone it was read in, seconds ahead of UTC. */
  at: z.string().nullable(),
  zoneS: z.number().nullable(),
  /** From the likeliest findspot: metres by the photograph's own place or else the walker's; seconds later. */
  offM: z.number().nullable(),
  offS: z.number().nullable(),
})
export type PhotographMatch = z.infer<typeof photographMatchShape>

/** One entry a photograph, in their order; the notes say what was assumed of the cameras' clocks. */
export const photographMatchesShape = z.object({
  photographs: z.array(photographMatchShape),
  notes: z.array(z.string()),
})
export type PhotographMatches = z.infer<typeof photographMatchesShape>
