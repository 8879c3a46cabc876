import { SurveyError } from '#core/faults'
import { numberAt, textAt } from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import type { StoredVisit, VisitFacts } from './visits-file.ts'
import type { Writer } from './writer.ts'

/** In order of days, those without one last. */
export function readVisits(on: Connection): StoredVisit[] {
  return on.all('SELECT * FROM visits ORDER BY day IS NULL, day, id').map(storedVisit)
}

/** Faults: SurveyError not-found. */
export function visitOf(on: Connection, id: number): StoredVisit {
  const row = on.one('SELECT * FROM visits WHERE id = ?', id)
  if (row === null)
    throw new SurveyError('not-found', `There is no visit ${id} in the survey; it may have been removed.`)
  return storedVisit(row)
}

export function visitWords({ day }: Pick<VisitFacts, 'day'>): string {
  return day === null ? 'the visit without a date' : `the visit of ${day}`
}

function storedVisit(row: Row): StoredVisit {
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    day: textAt(row, 'day'),
    person: textAt(row, 'person'),
    swathM: numberAt(row, 'swath_m'),
    coilM: numberAt(row, 'coil_m'),
    rateHz: numberAt(row, 'rate_hz'),
    errorM: numberAt(row, 'error_m'),
    ownChance: numberAt(row, 'own_chance'),
    clockOffsetS: numberAt(row, 'clock_offset_s') ?? 0,
    cutDrives: numberAt(row, 'cut_drives') === 1,
    weather: textAt(row, 'weather'),
    ground: textAt(row, 'ground'),
  }
}

function visitCells(facts: Partial<VisitFacts>): Record<string, Cell> {
  const cells: Record<string, Cell | undefined> = {
    day: facts.day,
    person: facts.person,
    swath_m: facts.swathM,
    coil_m: facts.coilM,
    rate_hz: facts.rateHz,
    error_m: facts.errorM,
    own_chance: facts.ownChance,
    clock_offset_s: facts.clockOffsetS,
    cut_drives: facts.cutDrives === undefined ? undefined : facts.cutDrives ? 1 : 0,
    weather: facts.weather,
    ground: facts.ground,
  }
  return Object.fromEntries(
    Object.entries(cells).flatMap(([column, cell]) => (cell === undefined ? [] : [[column, cell]])),
  )
}

/** Writes what differs from what is stored; the offset and the cutting read the same empty as 0. */
export function changeVisit(writer: Writer, id: number, edit: Partial<VisitFacts>): StoredVisit {
  const stored = visitOf(writer.on, id)
  const before = visitCells(stored)
  const patch = Object.entries(visitCells(edit)).filter(([column, cell]) => before[column] !== cell)
  if (patch.length > 0) writer.update('visits', stored.uuid, Object.fromEntries(patch))
  return visitOf(writer.on, id)
}

/** The visit of each track that has one. The index holds both, so no track's fixes are read through. */
export function visitsOfTracks(on: Connection): Map<number, number> {
  const rows = on.all(
    'SELECT tracks.id AS track, visits.id AS visit FROM visits JOIN tracks ON tracks.visit_uuid = visits.uuid',
  )
  return new Map(rows.map((row) => [numberAt(row, 'track') ?? 0, numberAt(row, 'visit') ?? 0]))
}
