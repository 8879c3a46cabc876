import { type FindColumn, type FindList, type FindView, findColumns, type PhotographView } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import type { CataloguedFind, FoundAt } from '#store'
import { honestGridRef, isoTime, planarFindspot } from '../views.ts'

type Cell = string | number | null

const britishGrid = 27_700

function place(foundAt: FoundAt | null, grid: PlanarGrid | null): readonly [number, number] | null {
  return foundAt && grid && planarFindspot(foundAt, grid)
}

/** How each column of the list is made of a find and its place in the survey's grid. */
const cellOf: Readonly<
  Record<
    FindColumn,
    (find: CataloguedFind, at: readonly [number, number] | null, grid: PlanarGrid | null) => Cell
  >
> = {
  id: ({ id }) => id,
  number: ({ record }) => record.number,
  object: ({ record }) => record.objectType?.text ?? '',
  material: ({ record }) => record.materials.map(({ text }) => text).join('; '),
  period: ({ record }) => record.period?.text ?? '',
  fromYear: ({ record }) => record.fromYear,
  toYear: ({ record }) => record.toYear,
  certainty: ({ record }) => record.certainty,
  count: ({ record }) => record.count,
  completeness: ({ record }) => record.completeness,
  weightG: ({ record }) => record.weightG,
  lengthMm: ({ record }) => record.lengthMm,
  widthMm: ({ record }) => record.widthMm,
  thicknessMm: ({ record }) => record.thicknessMm,
  diameterMm: ({ record }) => record.diameterMm,
  depthCm: ({ record }) => record.depthCm,
  condition: ({ record }) => record.condition ?? '',
  description: ({ record }) => record.description ?? '',
  notes: ({ record }) => record.notes ?? '',
  finder: ({ record }) => record.finder ?? '',
  whereNow: ({ record }) => record.whereNow ?? '',
  visit: ({ record }) => record.visit,
  findspot: ({ foundAt }) => foundAt?.id ?? null,
  easting: (_, at) => at?.[0] ?? null,
  northing: (_, at) => at?.[1] ?? null,
  gridRef: ({ foundAt }, at, grid) =>
    at && grid?.epsg === britishGrid ? honestGridRef(at[0], at[1], foundAt?.accuracyM ?? null) : '',
  foundAt: ({ foundAt }) => isoTime(foundAt?.time ?? null),
  photographs: ({ photographs }) => photographs,
}

/** All finds, light. Cost: linear. */
export function findList(finds: readonly CataloguedFind[], grid: PlanarGrid | null): FindList {
  return {
    columns: [...findColumns],
    rows: finds.map((find) => {
      const at = place(find.foundAt, grid)
      return findColumns.map((column) => cellOf[column](find, at, grid))
    }),
  }
}

/** A find with all that is known of it. */
export function findView(
  find: CataloguedFind,
  grid: PlanarGrid | null,
  photographs: PhotographView[],
  shared: number,
): FindView {
  const { id, uuid, record, givenNumber, foundAt } = find
  const at = place(foundAt, grid)
  return {
    id,
    uuid,
    record,
    givenNumber,
    photographs,
    place: foundAt && {
      findspot: foundAt.id,
      easting: at?.[0] ?? null,
      northing: at?.[1] ?? null,
      lat: foundAt.lat,
      lon: foundAt.lon,
      gridRef: at && grid?.epsg === britishGrid ? honestGridRef(at[0], at[1], foundAt.accuracyM) : null,
      accuracyM: foundAt.accuracyM,
      foundAt: isoTime(foundAt.time),
      note: foundAt.note,
      shared,
    },
  }
}
