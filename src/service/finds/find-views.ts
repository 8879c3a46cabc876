import { type FindList, type FindView, findColumns, type PhotographView } from '#contract'
import { certainties, completenesses } from '#core/finds'
import type { PlanarGrid } from '#core/geodesy'
import type { CataloguedFind, FoundAt, LightFind } from '#store'
import { honestGridRef, isoTime, planarFindspot } from '../views.ts'

/** Visits by UUID, as a list names them. */
type VisitNames = ReadonlyMap<string, string>
type Cell = string | number | null

const britishGrid = 27_700

function place(foundAt: FoundAt | null, grid: PlanarGrid | null): readonly [number, number] | null {
  return foundAt && grid && planarFindspot(foundAt, grid)
}

const text = (cell: Cell): Cell => cell ?? ''
const choice = (cell: Cell, of: readonly string[]): Cell => (of.includes(String(cell)) ? cell : null)
/** Metres in the file, centimetres in the list; the factor must not leave a tail of decimals. */
const centimetres = (cell: Cell): Cell => (typeof cell === 'number' ? Number((cell * 100).toFixed(6)) : null)

function isoMoment(cell: Cell): string | null {
  if (typeof cell !== 'string') return null
  if (/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/.test(cell)) return cell
  const ms = Date.parse(cell)
  return Number.isNaN(ms) ? null : new Date(ms).toISOString()
}

function rowOf({ cells, lon, lat }: LightFind, grid: PlanarGrid | null, visits: VisitNames): Cell[] {
  const [id, number, object, material, period, fromYear, toYear, certainty, count, completeness, ...rest] =
    cells as Cell[]
  const [weight, length, width, thickness, diameter, depth, condition, description, notes, finder, ...last] =
    rest
  const [whereNow, visit, findspot, east, north, accuracy, foundAt, photographs, conservation, picture] = last
  const given = typeof east === 'number' && typeof north === 'number'
  const away = lon !== null && lat !== null && grid ? planarFindspot({ planar: null, lon, lat }, grid) : null
  const at = lon === null && given ? ([east, north] as const) : away
  const accuracyM = typeof accuracy === 'number' ? accuracy : null
  const british = at !== null && grid?.epsg === britishGrid
  return [
    ...[id!, text(number!), text(object!), text(material!), text(period!), fromYear!, toYear!],
    ...[choice(certainty!, certainties), count!, choice(completeness!, completenesses)],
    ...[weight!, length!, width!, thickness!, diameter!, centimetres(depth!), text(condition!)],
    ...[text(description!), text(notes!), text(finder!), text(whereNow!)],
    ...[visits.get(String(visit)) ?? '', findspot!],
    ...[at?.[0] ?? null, at?.[1] ?? null, british ? honestGridRef(at[0], at[1], accuracyM) : ''],
    ...[isoMoment(foundAt!), photographs ?? 0, text(conservation!), picture!],
  ]
}

/** All finds, light: the values of `findColumns`. Cost: linear. */
export function findList(finds: readonly LightFind[], grid: PlanarGrid | null, visits: VisitNames): FindList {
  return { columns: [...findColumns], rows: finds.map((find) => rowOf(find, grid, visits)) }
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
      visit: foundAt.visit,
      note: foundAt.note,
      shared,
    },
  }
}
