import * as z from 'zod'
import type { Period } from '#core/dating'
import {
  eventKinds,
  type FieldShape,
  type FindRecord,
  findFields,
  photographRoles,
  type Term,
} from '#core/finds'

const codedWordShape = z.strictObject({
  text: z.string().trim().min(1).max(300),
  term: z.string().max(100).nullable(),
})

const textShape = z.string().max(20_000)
const oldestYear = -3_000_000

function fieldShape(shape: FieldShape): z.ZodType {
  switch (shape.kind) {
    case 'text':
      return textShape.nullable()
    case 'texts':
      return z.array(textShape.min(1)).max(200)
    case 'word':
      return codedWordShape.nullable()
    case 'words':
      return z.array(codedWordShape).max(50)
    case 'uuid':
      return z.string().max(100).nullable()
    case 'number-of-find':
      return z.string().max(30)
    case 'year':
      return z
        .number()
        .int()
        .min(oldestYear)
        .max(3000)
        .refine((year) => year !== 0, 'there is no year 0: -1 is followed by 1')
        .nullable()
    case 'amount': {
      const number = z.number().lte(shape.most)
      return (shape.zero ? number.gte(0) : number.gt(0)).nullable()
    }
    case 'whole':
      return z.number().int().min(shape.least).max(shape.most).nullable()
    case 'choice':
      return z.enum(shape.of as [string, ...string[]]).nullable()
    case 'choices':
      return z.array(z.enum(shape.of as [string, ...string[]]))
  }
}

/** Any fields of a find's record, each of its own kind; findspots are told by `place`. */
const recordPatchShape = z.strictObject(
  Object.fromEntries(
    Object.entries(findFields)
      .filter(([field]) => field !== 'findspot')
      .map(([field, { shape }]) => [field, fieldShape(shape).optional()]),
  ),
) as unknown as z.ZodType<RecordPatch>
export type RecordPatch = { readonly [Field in Exclude<keyof FindRecord, 'findspot'>]?: FindRecord[Field] }

/** Where a find was made: as somebody wrote it, in any notation, or in the survey's grid; what is left out stays or is not known. */
const findPlaceShape = z.union([
  z.strictObject({
    text: z.string().min(1).max(200),
    accuracyM: z.number().gt(0).lte(100_000).nullable().exactOptional(),
    foundAt: z.iso.datetime().nullable().exactOptional(),
    note: textShape.nullable().exactOptional(),
  }),
  z.strictObject({
    easting: z.number(),
    northing: z.number(),
    accuracyM: z.number().gt(0).lte(100_000).nullable().exactOptional(),
    foundAt: z.iso.datetime().nullable().exactOptional(),
    note: textShape.nullable().exactOptional(),
  }),
])
export type FindPlace = z.infer<typeof findPlaceShape>

/** POST /api/finds: a find to add; a number left out is the next one. */
export const newFindShape = z.strictObject({
  record: recordPatchShape,
  place: findPlaceShape.nullable().exactOptional(),
  /** Puts it at this findspot instead, by its id. */
  findspot: z.number().int().exactOptional(),
})
export type NewFind = z.infer<typeof newFindShape>

/** PATCH /api/finds/:id. `place` null takes the find off its findspot. */
export const findEditShape = z.strictObject({
  record: recordPatchShape.optional(),
  place: findPlaceShape.nullable().exactOptional(),
})
export type FindEditRequest = z.infer<typeof findEditShape>

const idsShape = z.array(z.number().int().nonnegative()).min(1).max(200_000)
/** PATCH /api/finds: one change of many finds. */
export const bulkEditShape = z.strictObject({ ids: idsShape, record: recordPatchShape })
export type BulkEdit = z.infer<typeof bulkEditShape>
/** POST /api/finds/remove */
export const findIdsShape = z.strictObject({ ids: idsShape })

const scaleLineShape = z.tuple([z.number(), z.number(), z.number(), z.number(), z.number().gt(0)])
export const photographShape = z.object({
  id: z.number().int(),
  name: z.string(),
  role: z.enum(photographRoles),
  note: z.string().nullable(),
  /** Of the upright picture, pixels. */
  width: z.number().int(),
  height: z.number().int(),
  takenAt: z.string().nullable(),
  /** Millimetres a pixel, and the line along the scale bar that says so: x1, y1, x2, y2 in pixels, length in millimetres. */
  mmPerPixel: z.number().nullable(),
  scaleLine: scaleLineShape.nullable(),
  /** False while its file cannot be found where it was. */
  found: z.boolean(),
})
export type PhotographView = z.infer<typeof photographShape>
/** PATCH /api/photographs/:id */
export const photographEditShape = z.strictObject({
  role: z.enum(photographRoles).exactOptional(),
  note: textShape.nullable().exactOptional(),
  scaleLine: scaleLineShape.nullable().exactOptional(),
})
export type PhotographEdit = z.infer<typeof photographEditShape>
/** POST /api/finds/:id/photographs: what became of a picture. */
export const photographReplyShape = z.object({
  photograph: photographShape,
  /** True where this find has this very picture already: nothing was changed. */
  alreadyThere: z.boolean(),
  /** Numbers of other finds that have the same picture. */
  alsoOf: z.array(z.string()),
})
export type PhotographReply = z.infer<typeof photographReplyShape>

/** GET /api/finds/:id */
export const findViewShape = z.object({
  id: z.number().int(),
  uuid: z.string(),
  /** A find record, as src/core/finds has it. */
  record: z.custom<FindRecord>(),
  givenNumber: z.string().nullable(),
  place: z
    .object({
      findspot: z.number().int(),
      easting: z.number().nullable(),
      northing: z.number().nullable(),
      lat: z.number(),
      lon: z.number(),
      gridRef: z.string().nullable(),
      accuracyM: z.number().nullable(),
      foundAt: z.string().nullable(),
      /** UUID of the visit that its time tells; the find's own record may name another. */
      visit: z.string().nullable(),
      note: z.string().nullable(),
      /** How many other finds share the findspot. */
      shared: z.number().int(),
    })
    .nullable(),
  photographs: z.array(photographShape),
})
export type FindView = z.infer<typeof findViewShape>

/** POST /api/finds/events: one entry in the history of each of these finds. */
export const newEventShape = z.strictObject({
  ids: idsShape,
  kind: z.enum(eventKinds),
  /** 2026-11-25, or with a time. */
  happenedOn: z.union([z.iso.date(), z.iso.datetime()]).nullable(),
  who: z.string().max(200).nullable(),
  note: textShape.nullable(),
})
export type NewEvent = z.infer<typeof newEventShape>

/** GET /api/finds/:id/history, newest first: what happened to it, and each change of its record. */
export const historyShape = z.array(
  z.object({
    /** ISO 8601 UTC: when it was written down. */
    at: z.string(),
    /** By whom it was written down; null for another program. */
    by: z.string().nullable(),
    /** An entry of its history, or a change of the record. */
    kind: z.enum([...eventKinds, 'change']),
    happenedOn: z.string().nullable(),
    who: z.string().nullable(),
    note: z.string().nullable(),
    /** For a change: what was done, and each field with what it said before and after. */
    what: z.string().nullable(),
    fields: z.array(z.object({ label: z.string(), before: z.string(), after: z.string() })),
  }),
)
export type History = z.infer<typeof historyShape>

/** GET /api/finds/numbers: numbers given out that no find bears, and why. */
export const numbersShape = z.object({
  years: z.array(z.object({ year: z.number().int(), last: z.number().int(), used: z.number().int() })),
  /** Numbers without a find, in order. `label`: on a blank label; `void`: struck out; `lost`: a find bore it once; `unknown`. */
  gaps: z.array(
    z.object({
      number: z.string(),
      state: z.enum(['label', 'void', 'lost', 'unknown']),
      why: z.string(),
    }),
  ),
  /** The number that the next find of this year would get. */
  next: z.string(),
})
export type Numbers = z.infer<typeof numbersShape>
/** POST /api/finds/numbers: strikes a number out, or says why it has no find. */
export const numberNoteShape = z.strictObject({
  number: z.string().max(30),
  state: z.enum(['label', 'void']),
  note: z.string().max(500).nullable(),
})
export type NumberNoteRequest = z.infer<typeof numberNoteShape>

/** GET /api/vocabularies: the open lists of words that come with the program. */
export interface Vocabularies {
  readonly materials: { readonly source: string; readonly notice: string; readonly terms: readonly Term[] }
  readonly periods: { readonly source: string; readonly notice: string; readonly terms: readonly Period[] }
}

/** POST /api/finds/labels: labels as PDF, for these finds or blank ones with fresh numbers. */
export const labelsRequestShape = z.strictObject({
  ids: z.array(z.number().int().nonnegative()).max(5000).default([]),
  /** How many blank labels, whose numbers are then given out; none of `ids` with it. */
  blank: z.number().int().min(0).max(2000).default(0),
  /** Numbers of blank labels to be printed once more. */
  again: z.array(z.string().max(30)).max(2000).default([]),
  /** Key of the label paper, as core/labels lists it, or roll-WIDTHxHEIGHT in millimetres. */
  sheet: z.string().max(40),
  code: z.enum(['data-matrix', 'qr']).default('data-matrix'),
  /** Labels of the first sheet that are already used. */
  skip: z.number().int().min(0).max(200).default(0),
  /** Moves all labels, millimetres, for a printer that draws its paper in askew. */
  shiftX: z.number().min(-20).max(20).default(0),
  shiftY: z.number().min(-20).max(20).default(0),
})
export type LabelsRequest = z.input<typeof labelsRequestShape>

/** One column of a table of finds: its heading, and what it is read as; null leaves it out. */
export interface TableColumn {
  readonly heading: string
  readonly column: string | null
  readonly unit: string | null
}

/** POST /api/finds/table: what a table would do to the catalogue, or has done. */
export interface FindsTableReply {
  readonly name: string
  /** Another text for another set of headings: by it a page remembers how the columns were read. */
  readonly key: string
  readonly columns: readonly TableColumn[]
  /** Everything that a column may be read as. */
  readonly choices: readonly { readonly column: string; readonly label: string }[]
  readonly adds: number
  readonly changes: number
  /** Of those to be added, how many come with a place. */
  readonly placed: number
  readonly same: number
  /** The first rows of each kind. */
  readonly added: readonly { readonly line: number; readonly number: string; readonly object: string }[]
  readonly changed: readonly {
    readonly line: number
    readonly number: string
    readonly fields: readonly { readonly label: string; readonly before: string; readonly after: string }[]
  }[]
  readonly conflicts: readonly { readonly line: number; readonly text: string }[]
  readonly faults: readonly { readonly line: number | null; readonly code: string; readonly text: string }[]
  /** False for a dry run. */
  readonly written: boolean
}

/** POST /api/finds/export: the catalogue as a file. */
export const findsFormats = ['csv', 'xlsx', 'geojson', 'gpkg', 'jsonld', 'pdf'] as const
export type FindsFormat = (typeof findsFormats)[number]
export const findsExportShape = z.strictObject({
  as: z.enum(findsFormats),
  /** For everybody: places no finer than a square kilometre, and no names of people. */
  public: z.boolean().default(false),
  /** These finds; all where it is left out. */
  ids: idsShape.exactOptional(),
})
export type FindsExport = z.input<typeof findsExportShape>
