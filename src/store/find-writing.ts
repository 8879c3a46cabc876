import { SurveyError } from '#core/faults'
import { secondsAt } from './cells.ts'
import type { Cell, Connection } from './connection.ts'
import type { FindEdit, FindToAdd } from './find-catalogue.ts'
import { findCells } from './find-cells.ts'
import { FindNumbers, isFindNumber } from './find-numbers.ts'
import { uuidOfFind } from './find-rows.ts'
import { newFindspotCells } from './findspot-rows.ts'
import { readIdentity, setGridOnce } from './identity.ts'
import { registerGrid } from './spatial-reference.ts'
import type { PlacedFindspot } from './survey-file.ts'
import type { Writer } from './writer.ts'

export interface Context {
  readonly uuid: () => string
  readonly code: string
}

function assertWgs84(spot: PlacedFindspot): void {
  if (spot.recorded.epsg !== 4326)
    throw new RangeError(`positions must come in WGS84, got EPSG:${spot.recorded.epsg}`)
}

/** Makes the grids of some findspots known, the first as the survey's own where it has none. */
function takeGrids(writer: Writer, spots: readonly (PlacedFindspot | null | undefined)[]): void {
  const grids = new Set(spots.flatMap((spot) => (spot?.planar ? [spot.planar.epsg] : [])))
  for (const epsg of grids) {
    if (readIdentity(writer.on).gridEpsg === null) setGridOnce(writer, epsg)
    registerGrid(writer.on, epsg)
  }
}

function addFindspot(writer: Writer, spot: PlacedFindspot, uuid: () => string): number {
  assertWgs84(spot)
  return writer.insert('findspots', newFindspotCells(spot, uuid(), null))
}

/** The row of a findspot by its UUID; null for none. Faults: SurveyError not-found. */
function findspotRow(on: Connection, uuid: string | null | undefined): number | null {
  if (uuid == null) return null
  const row = on.one('SELECT id FROM findspots WHERE uuid = ?', uuid)
  if (row === null) throw new SurveyError('not-found', 'The findspot of the find is no longer in the survey.')
  return Number(row.id)
}

/** A number on a label that a find now bears is no longer without a find. */
function takeUpLabel(writer: Writer, number: string): void {
  if (writer.on.one("SELECT 1 FROM number_notes WHERE number = ? AND state = 'label'", number) !== null)
    writer.remove('number_notes', number)
}

function assertFree(on: Connection, number: string): void {
  if (!isFindNumber(number)) {
    throw new SurveyError(
      'number-taken',
      `"${number}" is not a find number: write it as CODE-YEAR-NNN, such as ABC-2026-007.`,
    )
  }
  if (on.one('SELECT 1 FROM finds WHERE number = ?', number) !== null) {
    throw new SurveyError(
      'number-taken',
      `${number} is borne by another find already: open that one, or take another number.`,
    )
  }
}

const leastYear = 1980

/** The UTC year of finding, where the findspot tells a time that can be so; else this year. */
function yearOf(writer: Writer, foundAt: PlacedFindspot | null, findspotId: number | null): number {
  const thisYear = new Date(writer.now).getUTCFullYear()
  const row =
    foundAt === null && findspotId !== null
      ? writer.on.one('SELECT found_at FROM findspots WHERE id = ?', findspotId)
      : null
  const seconds = foundAt === null ? secondsAt(row ?? {}, 'found_at') : foundAt.recorded.time
  const year = seconds === null ? Number.NaN : new Date(seconds * 1000).getUTCFullYear()
  return year >= leastYear && year <= 9999 ? year : thisYear
}

/** Adds finds; the ids of their rows. Typed numbers come first, so that no fresh one takes a typed one. */
export function writeFinds(writer: Writer, finds: readonly FindToAdd[], { uuid, code }: Context): number[] {
  const { on } = writer
  const numbers = new FindNumbers(on, code)
  for (const { record } of finds) {
    const given = record.number ?? ''
    if (given === '') continue
    assertFree(on, given)
    if (!numbers.keep(given)) {
      throw new SurveyError(
        'number-taken',
        `${given} is given twice: two bags cannot have one number. Number one of them anew.`,
      )
    }
  }
  takeGrids(
    writer,
    finds.map(({ foundAt }) => foundAt),
  )
  const ids = finds.map(({ record, foundAt, givenNumber = null }) => {
    const findspotId =
      foundAt === null ? findspotRow(on, record.findspot) : addFindspot(writer, foundAt, uuid)
    const given = record.number ?? ''
    const number = given === '' ? numbers.next(yearOf(writer, foundAt, findspotId)) : given
    if (given !== '') takeUpLabel(writer, number)
    return writer.insert('finds', {
      uuid: uuid(),
      ...findCells(record),
      number,
      given_number: givenNumber,
      findspot_id: findspotId,
    })
  })
  if (finds.length > 0) numbers.finish()
  return ids
}

/** Writes what differs. */
export function changeFind(writer: Writer, edit: FindEdit, context: Context): void {
  const { on } = writer
  const uuid = uuidOfFind(on, edit.id)
  const row = on.one('SELECT * FROM finds WHERE id = ?', edit.id) ?? {}
  const cells: Record<string, Cell> = findCells(edit.patch)
  const { number } = edit.patch
  if (number !== undefined && number !== row.number) {
    assertFree(on, number)
    const numbers = new FindNumbers(on, context.code)
    numbers.keep(number)
    numbers.finish()
    takeUpLabel(writer, number)
  }
  if (edit.patch.findspot !== undefined) cells.findspot_id = findspotRow(on, edit.patch.findspot)
  takeGrids(writer, [edit.foundAt])
  if (edit.foundAt !== undefined)
    cells.findspot_id = movedTo(writer, Number(row.findspot_id ?? 0), edit.foundAt, context)
  const patch = Object.entries(cells).filter(([column, cell]) => row[column] !== cell)
  if (patch.length > 0) writer.update('finds', uuid, Object.fromEntries(patch))
}

/** The findspot of a find that was moved: the same row where no other find shares it. */
function movedTo(
  writer: Writer,
  findspotId: number,
  spot: PlacedFindspot | null,
  { uuid }: Context,
): number | null {
  if (spot === null) return null
  const row = writer.on.one(
    `SELECT uuid, (SELECT count(*) FROM finds WHERE findspot_id = findspots.id) AS n, original_id
      FROM findspots WHERE id = ?`,
    findspotId,
  )
  if (row === null || Number(row.n) > 1) return addFindspot(writer, spot, uuid)
  assertWgs84(spot)
  const {
    uuid: _,
    attributes: __,
    elevation_m: ___,
    original_id: ____,
    ...cells
  } = newFindspotCells(spot, '', null)
  writer.update('findspots', String(row.uuid), cells)
  return findspotId
}

/** Takes a find away with what hangs on it, and with a findspot of its own that nothing else uses. */
export function removeFind(writer: Writer, id: number): void {
  const { on } = writer
  const uuid = uuidOfFind(on, id)
  const hanging = {
    photographs: on.all('SELECT uuid FROM photographs WHERE find_uuid = ?', uuid),
    joins: on.all('SELECT uuid FROM joins WHERE ?1 IN (first_uuid, second_uuid)', uuid),
  }
  for (const [table, rows] of Object.entries(hanging) as [keyof typeof hanging, { uuid?: unknown }[]][]) {
    for (const row of rows) writer.remove(table, String(row.uuid))
  }
  const spot = on.one(
    `SELECT s.uuid FROM findspots s JOIN finds f ON f.findspot_id = s.id WHERE f.id = ?1 AND s.original_id IS NULL
      AND NOT EXISTS (SELECT 1 FROM finds WHERE findspot_id = s.id AND id <> ?1)`,
    id,
  )
  writer.remove('finds', uuid)
  if (spot !== null) writer.remove('findspots', String(spot.uuid))
}
