import * as z from 'zod'
import { coverViewShape } from './cover.ts'
import { settingsShape } from './settings.ts'

export const surveyGridShape = z.object({
  epsg: z.number().int(),
  name: z.string(),
  /** How WGS84 positions become planar ones: 'OSTN15', 'UTM (Karney series)' … */
  method: z.string(),
  /** What that step may be wrong by, metres; the receiver's own error is apart. */
  expectedErrorM: z.number(),
})
export type SurveyGridView = z.infer<typeof surveyGridShape>

export const countsShape = z.object({
  areas: z.number().int(),
  tracks: z.number().int(),
  fixes: z.number().int(),
  findspots: z.number().int(),
  finds: z.number().int(),
})
/** Marks by what has been decided of them, and the targets. */
export const markCountsShape = z.object({
  candidate: z.number().int(),
  accepted: z.number().int(),
  unsure: z.number().int(),
  rejected: z.number().int(),
  targets: z.number().int(),
})

const boundsShape = z.tuple([z.number(), z.number(), z.number(), z.number()])

/** GET /api/survey: all that the desk needs to draw its frame. Planar values are in the survey's grid, metres. */
export const surveyViewShape = z.object({
  file: z.string(),
  code: z.string(),
  title: z.string(),
  demo: z.boolean(),
  /** Null while nothing with a position has come in. */
  grid: surveyGridShape.nullable(),
  /** west, south, east, north */
  bounds: boundsShape.nullable(),
  settings: settingsShape,
  counts: countsShape,
  marks: markCountsShape,
  /** Rises with every change, whoever made it. */
  revision: z.number().int(),
  /** What Undo would take back, in words; null if nothing. */
  undo: z.string().nullable(),
  cover: coverViewShape.nullable(),
  /** True when the cover was made from other tracks, areas or settings than those now in the survey. */
  coverStale: z.boolean(),
})
export type SurveyView = z.infer<typeof surveyViewShape>

export const trackViewShape = z.object({
  id: z.number().int(),
  name: z.string(),
  walked: z.boolean(),
  fixes: z.number().int(),
  /** ISO 8601 UTC, null without times. */
  start: z.string().nullable(),
  end: z.string().nullable(),
  sourceFile: z.string().nullable(),
})
export type TrackView = z.infer<typeof trackViewShape>

const ringShape = z.array(z.tuple([z.number(), z.number()])).min(4)
export const polygonsShape = z.array(z.array(ringShape).min(1)).min(1)

/** Ground to be searched, the bounds of a field, ground to be left alone, ground to be careful on. */
export const areaKinds = ['search', 'field', 'no-go', 'hazard'] as const
export type AreaKind = (typeof areaKinds)[number]

/** Polygons as nested pairs, rings closed, in the survey's grid: what the map draws and sends back. */
export const areaViewShape = z.object({
  id: z.number().int(),
  name: z.string(),
  kind: z.enum(areaKinds),
  areaM2: z.number(),
  polygons: polygonsShape,
})
export type AreaView = z.infer<typeof areaViewShape>
/** POST /api/areas and PUT /api/areas/:id */
export const areaEditShape = z.object({
  name: z.string().min(1).max(200),
  /** Left out: as it was; a new area is then to be searched. */
  kind: z.enum(areaKinds).exactOptional(),
  polygons: polygonsShape,
})
export type AreaEdit = z.infer<typeof areaEditShape>

export const gapViewShape = z.object({ id: z.number().int(), areaM2: z.number(), polygons: polygonsShape })
export type GapView = z.infer<typeof gapViewShape>

export const findspotViewShape = z.object({
  id: z.number().int(),
  name: z.string(),
  easting: z.number(),
  northing: z.number(),
  lat: z.number(),
  lon: z.number(),
  /** Grid reference or the like, no finer than the accuracy allows. */
  gridRef: z.string().nullable(),
  accuracyM: z.number().nullable(),
  time: z.string().nullable(),
  note: z.string().nullable(),
  finds: z.array(
    z.object({
      number: z.string().nullable(),
      object: z.string(),
      material: z.string().nullable(),
      period: z.string().nullable(),
      count: z.number().int(),
      weightG: z.number().nullable(),
      depthM: z.number().nullable(),
    }),
  ),
})
export type FindspotView = z.infer<typeof findspotViewShape>

/** GET /api/surveys: the surveys in the user's folder. */
export const surveyListShape = z.object({
  folder: z.string(),
  surveys: z.array(
    z.object({
      file: z.string(),
      code: z.string(),
      title: z.string(),
      open: z.boolean(),
      changedAt: z.string(),
    }),
  ),
})
export type SurveyList = z.infer<typeof surveyListShape>
/** POST /api/surveys: make one and open it. POST /api/surveys/open takes { file } from the list. */
export const newSurveyShape = z.object({
  code: z.string().regex(/^[A-Z][A-Z0-9]{1,7}$/, 'two to eight capital letters or digits, a letter first'),
  title: z.string().min(1).max(200),
})
export type NewSurvey = z.infer<typeof newSurveyShape>
export const openSurveyShape = z.object({ file: z.string().min(1) })

export const undoReplyShape = z.object({ undone: z.string().nullable() })
export type UndoReply = z.infer<typeof undoReplyShape>
