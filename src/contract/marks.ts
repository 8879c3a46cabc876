import * as z from 'zod'
import { lineLookAlikes } from '#core/marks'
import { layerViewShape } from './layers.ts'
import { markKinds, mostCandidates, soughtKinds } from './mark-kinds.ts'
import { lineLengthM, lineWidthM, markDiameterM } from './mark-sizes.ts'

export const markStates = ['candidate', 'accepted', 'rejected', 'unsure'] as const
export type MarkState = (typeof markStates)[number]
export const markTones = ['dark', 'light', 'either'] as const
export type MarkTone = (typeof markTones)[number]

const place = z.number()
const diameter = z.number().min(markDiameterM.least).max(markDiameterM.most)
const note = z.string().max(2000).nullable()
const outlineShape = z
  .array(z.tuple([place, place]))
  .min(2)
  .max(5000)

/** One more time that a mark was seen. */
export const sightingShape = z.object({
  layerId: z.number().int(),
  layerName: z.string(),
  takenOn: z.string().nullable(),
  view: layerViewShape.nullable(),
  score: z.number().nullable(),
  falseAlarmsPerKm2: z.number().nullable(),
})
export type Sighting = z.infer<typeof sightingShape>

/** A mark, planar values in the survey's grid, metres; bearings in degrees from grid north. */
export const markShape = z.object({
  id: z.number().int(),
  kind: z.enum(markKinds),
  state: z.enum(markStates),
  note: z.string().nullable(),
  /** Its middle. */
  easting: place,
  northing: place,
  lat: z.number(),
  lon: z.number(),
  gridRef: z.string().nullable(),
  /** A closed ring, or for a line its vertices. */
  outline: outlineShape,
  /** Of the middle of the ditch; null for lines and enclosures. */
  diameterM: z.number().nullable(),
  ditchWidthM: z.number().nullable(),
  tone: z.enum(['dark', 'light']).nullable(),
  /** Share of the circle or of the line that is seen, and the parts of a ring that are not. */
  completeness: z.number().nullable(),
  arcGaps: z.array(z.object({ fromDeg: z.number(), toDeg: z.number() })),
  ellipticity: z.number().nullable(),
  contrast: z.number().nullable(),
  score: z.number().nullable(),
  /** How many so good a square kilometre of markless ground like that of the picture gives; null for what a person drew. */
  falseAlarmsPerKm2: z.number().nullable(),
  /** From the middle of a line to that of one that runs beside it; null where none does, and for other kinds. */
  pairSpacingM: z.number().nullable(),
  /** What of our own day a line or an enclosure looks like: questions for the reviewer. */
  mayBe: z.array(z.enum(lineLookAlikes)),
  /** The layer it was first seen on, and how that was looked at. The layer may be gone. */
  layerId: z.number().int().nullable(),
  layerName: z.string().nullable(),
  view: layerViewShape.nullable(),
  /** Where later searches saw it. */
  seenAgain: z.array(sightingShape),
  madeBy: z.enum(['detector', 'hand']),
  /** True once a person has moved or resized what the detector found, or called it another kind. */
  edited: z.boolean(),
  /** ISO 8601 UTC, null if another program made it. */
  madeAt: z.string().nullable(),
  /** The target made at its middle. */
  targetId: z.number().int().nullable(),
})
export type Mark = z.infer<typeof markShape>

const soughtOn = {
  layerId: z.number().int(),
  view: layerViewShape,
  tone: z.enum(markTones),
  most: z.number().int().min(1).max(mostCandidates),
}
const roundSearch = { ...soughtOn, minDiameterM: diameter, maxDiameterM: diameter }
const lineWidth = z.number().min(lineWidthM.least).max(lineWidthM.most)

export const soughtKindShape = z.enum(soughtKinds)

/** POST /api/marks/search: looks for marks of one kind on one layer; a search for lines finds enclosures too. */
export const markSearchShape = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('ring'), ...roundSearch }),
  z.strictObject({ kind: z.literal('pit'), ...roundSearch }),
  z.strictObject({
    kind: z.literal('line'),
    ...soughtOn,
    minWidthM: lineWidth,
    maxWidthM: lineWidth,
    leastLengthM: z.number().min(lineLengthM.least).max(lineLengthM.most),
  }),
])
export type MarkSearch = z.infer<typeof markSearchShape>

/** POST /api/marks: a mark drawn by hand. A ring or pit by its middle and diameter, a line or enclosure by its outline. */
export const newMarkShape = z.union([
  z.strictObject({
    kind: z.enum(['ring', 'pit']),
    easting: place,
    northing: place,
    diameterM: diameter,
    note: note.exactOptional(),
    layerId: z.number().int().nullable().exactOptional(),
    view: layerViewShape.nullable().exactOptional(),
  }),
  z.strictObject({
    kind: z.enum(['line', 'enclosure']),
    outline: outlineShape,
    note: note.exactOptional(),
    layerId: z.number().int().nullable().exactOptional(),
    view: layerViewShape.nullable().exactOptional(),
  }),
])
export type NewMark = z.infer<typeof newMarkShape>

/** PATCH /api/marks/:id: any of these. Middle and diameter are for rings and pits, the outline for lines and enclosures. */
export const markEditShape = z.strictObject({
  kind: z.enum(markKinds).exactOptional(),
  state: z.enum(markStates).exactOptional(),
  note: note.exactOptional(),
  easting: place.exactOptional(),
  northing: place.exactOptional(),
  diameterM: diameter.exactOptional(),
  outline: outlineShape.exactOptional(),
})
export type MarkEdit = z.infer<typeof markEditShape>

/** A point worth walking to, in the survey's grid. */
export const targetShape = z.object({
  id: z.number().int(),
  name: z.string(),
  note: z.string().nullable(),
  easting: place,
  northing: place,
  lat: z.number(),
  lon: z.number(),
  gridRef: z.string().nullable(),
  /** The mark at whose middle it was made. */
  markId: z.number().int().nullable(),
  madeAt: z.string().nullable(),
})
export type Target = z.infer<typeof targetShape>

const targetName = z.string().trim().min(1).max(200)
/** POST /api/targets */
export const newTargetShape = z.strictObject({
  name: targetName,
  easting: place,
  northing: place,
  note: note.exactOptional(),
})
export type NewTarget = z.infer<typeof newTargetShape>
/** PATCH /api/targets/:id: any of these. */
export const targetEditShape = z.strictObject({
  name: targetName.exactOptional(),
  note: note.exactOptional(),
  easting: place.exactOptional(),
  northing: place.exactOptional(),
})
export type TargetEdit = z.infer<typeof targetEditShape>
