import * as z from 'zod'
import { coverFiguresShape, coverSpreadShape, gridFrameShape } from './cover.ts'
import { polygonsShape } from './survey.ts'

/** How a visit was swept. Lengths in metres. */
export const sweepShape = z.object({
  /** Full width of the arc swept. */
  swathM: z.number().gt(0).lte(20),
  /** Standard deviation of a position along one axis, where the receiver tells nothing better. */
  errorM: z.number().gte(0).lte(100),
  /** Length of ground the coil senses along the walk, and sweeps a second; both or neither. */
  coilM: z.number().gt(0).lte(5).nullable(),
  rateHz: z.number().gt(0).lte(10).nullable(),
  /** The instrument's own chance of telling of what its coil passes over. */
  ownChance: z.number().gt(0).lte(1),
})
export type Sweep = z.infer<typeof sweepShape>

/** What the chances of a survey are asked with. */
export const visitCoverWishShape = z.object({
  sweep: sweepShape,
  /** Visits that were swept otherwise, by their id. */
  sweepOf: z.record(z.string(), sweepShape),
  /** Only these visits; null for all. */
  only: z.array(z.string()).nullable(),
  /** Cleans the tracks first, and leaves out what looks driven. */
  clean: z.boolean(),
  cutDrives: z.boolean(),
  /** Gaps are the ground below this chance. */
  gapChance: z.number().gt(0).lte(1),
  simulations: z.number().int().gte(1).lte(10_000).nullable(),
  seed: z.number().int().gte(0).lte(0xffff_ffff),
})
export type VisitCoverWish = z.infer<typeof visitCoverWishShape>

const sharesShape = z.object({
  expectedShare: z.number(),
  share50: z.number(),
  share80: z.number(),
  share95: z.number(),
})

/** One visit and its walked tracks. Times ISO 8601 UTC, places in the survey's grid. */
export const visitViewShape = sharesShape.extend({
  /** Number of the visit; 0 for walked tracks that are in none. */
  id: z.string(),
  tracks: z.array(z.number().int()),
  start: z.string().nullable(),
  end: z.string().nullable(),
  distanceM: z.number(),
  walkingS: z.number().nullable(),
  stoppedS: z.number().nullable(),
  /** Null where coil, rate or times are not known. */
  tooFastM: z.number().nullable(),
  fast: z.array(
    z.object({
      track: z.number().int(),
      start: z.string(),
      end: z.string(),
      metres: z.number(),
      seconds: z.number(),
    }),
  ),
  stops: z.array(z.object({ x: z.number(), y: z.number(), start: z.string(), end: z.string() })),
  /** Parts that look driven, by recorded fixes: cutting them is offered. */
  drives: z.array(
    z.object({
      track: z.number().int(),
      fromFix: z.number().int(),
      toFix: z.number().int(),
      metres: z.number(),
    }),
  ),
  finds: z.number().int(),
  findsPerHour: z.number().nullable(),
  /** By the chance-weighted ground of the visit. */
  findsPerCoveredHectare: z.number().nullable(),
  /** Left out, assumed, or odd, one sentence each. */
  notes: z.array(z.string()),
})
export type VisitView = z.infer<typeof visitViewShape>

/** The cover of a survey as chances, visit by visit and together. */
export const visitCoverViewShape = z.object({
  figures: coverFiguresShape,
  frame: gridFrameShape,
  all: sharesShape,
  visits: z.array(visitViewShape),
  /** Ground below the chance asked for, largest first: what may have been missed. */
  gaps: z.array(z.object({ areaM2: z.number(), polygons: polygonsShape })),
  spread: coverSpreadShape.nullable(),
  /** Tracks of one visit that look like one walk recorded twice, or two people side by side: a person decides. */
  twins: z.array(
    z.object({ first: z.number().int(), second: z.number().int(), offsetS: z.number(), shiftM: z.number() }),
  ),
  /** Findspots whose place or time does not fit the tracks of their day. */
  questions: z.array(z.object({ findspot: z.number().int(), code: z.string(), text: z.string() })),
})
export type VisitCoverView = z.infer<typeof visitCoverViewShape>
