import * as z from 'zod'
import { settingsShape } from './settings.ts'

/** Where the cells of a cover grid lie: row 0 is the northernmost, column 0 the westernmost; metres in the survey's grid. */
export const gridFrameShape = z.object({
  epsg: z.number().int(),
  west: z.number(),
  north: z.number(),
  cellM: z.number(),
  columns: z.number().int(),
  rows: z.number().int(),
})

/** What simulated walks say of the covered share: see core/cover. */
export const coverSpreadShape = z.object({
  simulations: z.number().int(),
  seed: z.number().int(),
  mean: z.number(),
  sd: z.number(),
  low: z.number(),
  median: z.number(),
  high: z.number(),
})

/** The account of the ground. Areas in square metres, lengths in metres, shares 0 to 1. */
export const coverFiguresShape = z.object({
  areaM2: z.number(),
  coveredM2: z.number(),
  coveredShare: z.number(),
  /** Chance-weighted share where a position error was given; null where none was, for then no chance was worked out. */
  expectedShare: z.number().nullable(),
  /** Shares of the area with a chance of 50, 80 and 95 % or more; null where no chance was worked out, absent in covers made before. */
  share50: z.number().nullable().optional(),
  share80: z.number().nullable().optional(),
  share95: z.number().nullable().optional(),
  /** Metres walked faster than the coil can follow; null where coil, rate or times are not known. */
  tooFastM: z.number().nullable().optional(),
  /** How far the covered share may be off, by simulated walks; null where none were asked for. */
  spread: coverSpreadShape.nullable().optional(),
  /** Mean over the whole area, cells never reached counting as 0; max over cells. */
  passes: z.object({ mean: z.number(), max: z.number().int() }),
  gaps: z.object({ count: z.number().int(), areaM2: z.number(), largestM2: z.number() }),
  /** Length of the legs that count as swept, whether inside the area or not. */
  distanceM: z.number(),
  /** Time spent on those legs; null where the fixes carry no times. */
  walkingS: z.number().nullable(),
  /** Wall time of the sum. */
  seconds: z.number(),
  cellM: z.number(),
  /** How the figures were made and what was assumed, one sentence each. */
  notes: z.array(z.string()),
})
export type CoverFigures = z.infer<typeof coverFiguresShape>
export type GridFrame = z.infer<typeof gridFrameShape>

/** The cover the desk shows, with the finds set against it. */
export const coverViewShape = coverFiguresShape.extend({
  id: z.string(),
  madeAt: z.iso.datetime(),
  settings: settingsShape,
  frame: gridFrameShape,
  /** Finds whose findspot lies in the search area; a findspot with no find recorded counts as one. */
  finds: z.number().int(),
  findsPerHour: z.number().nullable(),
  findsPerHectare: z.number().nullable(),
})
export type CoverView = z.infer<typeof coverViewShape>
