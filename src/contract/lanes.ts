import * as z from 'zod'

/** Parallel lanes, a spiral from a target outward, or parallel lanes far apart that leave the edges be. */
export const lanePatterns = ['parallel', 'spiral', 'transects'] as const
export type LanePattern = (typeof lanePatterns)[number]

/** How fast lanes are walked. Speeds in metres a second, times as named. */
export const paceShape = z.object({
  sweepMs: z.number().positive(),
  walkMs: z.number().positive(),
  turnS: z.number().nonnegative(),
  workMin: z.number().positive(),
  restMin: z.number().nonnegative(),
})

/** What lanes are asked for. Positions are easting and northing in the survey's grid. */
export const laneWishesShape = z.object({
  spacingM: z.number().positive(),
  /** Degrees from grid north; null for the fewest turns. */
  bearing: z.number().nullable().default(null),
  pattern: z.enum(lanePatterns).default('parallel'),
  walkers: z.number().int().min(1).max(1000).default(1),
  /** Where the walk starts, or where a spiral has its middle. */
  from: z.tuple([z.number(), z.number()]).nullable().default(null),
  /** How far out a spiral goes, metres; null for as far as the area does. */
  radiusM: z.number().positive().nullable().default(null),
  pace: paceShape.optional(),
})
export type LaneWishesGiven = z.input<typeof laneWishesShape>

/** One walker's lanes: `from` up to, not including, `to`, counted from 0 in the order of the walk. */
export const laneWalkerShape = z.object({
  from: z.number().int(),
  to: z.number().int(),
  lanes: z.number().int(),
  lengthM: z.number(),
  betweenM: z.number(),
  outsideM: z.number(),
  turns: z.number().int(),
  hours: z.number(),
})

/** The account of lanes. Lengths in metres, bearings in degrees from grid north. */
export const laneFiguresShape = z.object({
  lanes: z.number().int(),
  lengthM: z.number(),
  /** From lane to lane, over all walkers. */
  turns: z.number().int(),
  /** That of most of the length; null for a spiral. */
  bearing: z.number().nullable(),
  /** Walked between lanes, and how much of it lies off the area because its parts lie apart. */
  betweenM: z.number(),
  outsideM: z.number(),
  /** Until the last walker is done, rests included. */
  hours: z.number(),
  /** Of that walker, resting. */
  restHours: z.number(),
  areaM2: z.number(),
  spacingM: z.number(),
  pattern: z.enum(lanePatterns),
  parts: z.array(
    z.object({
      polygon: z.number().int(),
      bearing: z.number().nullable(),
      lanes: z.number().int(),
      lengthM: z.number(),
    }),
  ),
  walkers: z.array(laneWalkerShape),
  notes: z.array(z.string()),
})
export type LaneFigures = z.infer<typeof laneFiguresShape>

const twilightShape = z.object({
  /** Times in UTC; null where the sun does not cross that altitude on the day. */
  rise: z.iso.datetime().nullable(),
  set: z.iso.datetime().nullable(),
  /** Whether it stays above or below all day. */
  all: z.enum(['above', 'below']).nullable(),
})

/** The light of a day at the middle of the area, and whether lanes fit into it. */
export const laneLightShape = z.object({
  day: z.iso.date(),
  sun: twilightShape,
  civil: twilightShape,
  /** From dawn to dusk, civil. */
  hours: z.number(),
  fits: z.boolean(),
})
export type LaneLight = z.infer<typeof laneLightShape>

/** What lanes and sweeps may be expected to meet. Chances 0 to 1; null where what they need was not told. */
export const laneChancesShape = z.object({
  /** Of crossing a round scatter of the diameter told. */
  scatterCrossed: z.number().nullable(),
  /** Share of the ground within the swath of a lane. */
  sweptShare: z.number(),
  /** Share of the ground within a swath that the coil senses, and of all the ground. */
  sensedOfSwath: z.number().nullable(),
  objectSensed: z.number().nullable(),
  /** Fastest speeds at which sweeps still overlap, metres a second. */
  fastestMiddleMs: z.number().nullable(),
  fastestEdgeMs: z.number().nullable(),
  /** What the speed does to the sweeps, in words. */
  sweep: z.string().nullable(),
})
export type LaneChances = z.infer<typeof laneChancesShape>
