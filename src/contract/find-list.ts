import * as z from 'zod'
import type { FindRecord } from '#core/finds'

/** What a row of the list holds, in this order. */
export const findColumns = [
  'id',
  'number',
  'object',
  'material',
  'period',
  'fromYear',
  'toYear',
  'certainty',
  'count',
  'completeness',
  'weightG',
  'lengthMm',
  'widthMm',
  'thicknessMm',
  'diameterMm',
  'depthCm',
  'condition',
  'description',
  'notes',
  'finder',
  'whereNow',
  'visit',
  'findspot',
  'easting',
  'northing',
  'gridRef',
  'foundAt',
  'photographs',
  'conservation',
  'picture',
] as const
export type FindColumn = (typeof findColumns)[number]

/** GET /api/finds: all finds, light: the values of `findColumns`, one array a find. */
export const findListShape = z.object({
  columns: z.array(z.enum(findColumns)),
  rows: z.array(z.array(z.union([z.string(), z.number(), z.null()]))),
})
export type FindList = z.infer<typeof findListShape>

/** One row of the list by name. Empty texts mean not known. */
export interface FindRow {
  readonly id: number
  readonly number: string
  readonly object: string
  /** Most of it first, separated by '; '. */
  readonly material: string
  readonly period: string
  readonly fromYear: number | null
  readonly toYear: number | null
  readonly certainty: FindRecord['certainty']
  readonly count: number | null
  readonly completeness: FindRecord['completeness']
  readonly weightG: number | null
  readonly lengthMm: number | null
  readonly widthMm: number | null
  readonly thicknessMm: number | null
  readonly diameterMm: number | null
  readonly depthCm: number | null
  readonly condition: string
  readonly description: string
  readonly notes: string
  readonly finder: string
  readonly whereNow: string
  /** Its day, and who walked it where that is told; of the find itself, else of its findspot. */
  readonly visit: string
  /** Id of its findspot, which places it; null without one. */
  readonly findspot: number | null
  /** In the survey's grid, metres. */
  readonly easting: number | null
  readonly northing: number | null
  readonly gridRef: string
  /** ISO 8601 UTC. */
  readonly foundAt: string | null
  readonly photographs: number
  readonly conservation: string
  /** Id of its first photograph; null without one. */
  readonly picture: number | null
}
