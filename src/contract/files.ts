import * as z from 'zod'
import { faultCodes } from '#core/faults'

const codes = Object.keys(faultCodes) as [keyof typeof faultCodes, ...(keyof typeof faultCodes)[]]

export const fileFaultShape = z.object({
  line: z.number().int().nullable(),
  code: z.enum(codes),
  text: z.string(),
})

export const addedShape = z.object({
  tracks: z.number().int(),
  fixes: z.number().int(),
  findspots: z.number().int(),
  areas: z.number().int(),
  finds: z.number().int(),
  layers: z.number().int(),
  photos: z.number().int(),
})
export type Added = z.infer<typeof addedShape>

/** What became of one file. `kind` is null where nothing could be read. */
export const importedFileShape = z.object({
  name: z.string(),
  sha256: z.string(),
  kind: z.string().nullable(),
  added: addedShape,
  alreadyThere: z.boolean(),
  faults: z.array(fileFaultShape),
  /** Where it lies in the survey's grid, for the map to go to: west, south, east, north; null if nothing came in. */
  bounds: z.tuple([z.number(), z.number(), z.number(), z.number()]).nullable(),
})
export const importReplyShape = z.object({ files: z.array(importedFileShape) })
export type ImportedFile = z.infer<typeof importedFileShape>
export type ImportReply = z.infer<typeof importReplyShape>

export const exportWhats = [
  'areas',
  'findspots',
  'finds',
  'gaps',
  'lanes',
  'marks',
  'targets',
  'tracks',
] as const
export const exportFormats = ['gpx', 'kml', 'geojson', 'csv'] as const
export type ExportWhat = (typeof exportWhats)[number]
export type ExportFormat = (typeof exportFormats)[number]
export const exportReplyShape = z.object({ written: z.string(), features: z.number().int() })
export type ExportReply = z.infer<typeof exportReplyShape>

export const errorReplyShape = z.object({ error: z.object({ code: z.string(), text: z.string() }) })
export type ErrorReply = z.infer<typeof errorReplyShape>
