import { SurveyError } from '#core/faults'
import { secondsAt, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import { visitOf } from './visit-rows.ts'
import type { StoredVisit } from './visits-file.ts'
import type { Writer } from './writer.ts'

/** A findspot recorded this long before a visit's first fix or after its last still belongs to it, seconds (our own choice). */
const besideS = 3600

type NewUuid = () => string

/** Rows in no visit, or in one that is no longer there: found in the index, without reading through the fixes of tracks. */
const looseRows = (table: 'tracks' | 'findspots'): string =>
  `id IN (SELECT id FROM ${table} WHERE visit_uuid IS NULL OR visit_uuid NOT IN (SELECT uuid FROM visits)) AND uuid IS NOT NULL`

/** Puts walked tracks without a visit in the first visit of the day (UTC) they began on, made where there is none. */
export function settleTracks(writer: Writer, uuid: NewUuid): void {
  const loose = writer.on.all(
    `SELECT uuid, started_at FROM tracks WHERE ${looseRows('tracks')} AND walked = 1 ORDER BY id`,
  )
  for (const row of loose) {
    writer.update('tracks', textAt(row, 'uuid')!, { visit_uuid: visitOfDay(writer, dayOf(row), uuid) })
  }
}

/** The first visit of a day, made where there is none. */
export function visitOfDay(writer: Writer, day: string | null, uuid: NewUuid): string {
  const known = writer.on.one('SELECT uuid FROM visits WHERE day IS ? ORDER BY id LIMIT 1', day)
  return (known === null ? null : textAt(known, 'uuid')) ?? newVisit(writer, day, uuid)
}

function dayOf(row: Row): string | null {
  return textAt(row, 'started_at')?.slice(0, 10) ?? null
}

function newVisit(writer: Writer, day: string | null, uuid: NewUuid): string {
  const key = uuid()
  writer.insert('visits', { uuid: key, day })
  return key
}

/** By a time: the visit whose tracks were being recorded then, else the one nearest within an hour, else that of the day. */
export function visitsByTime(on: Connection): (time: number | null) => string | null {
  const spans = on
    .all(`SELECT visits.uuid, day, min(started_at) AS first, max(ended_at) AS last, coalesce(clock_offset_s, 0) AS offset
      FROM visits JOIN tracks ON tracks.visit_uuid = visits.uuid GROUP BY visits.id ORDER BY visits.id`)
    .map((row) => ({
      uuid: textAt(row, 'uuid'),
      day: textAt(row, 'day'),
      first: (secondsAt(row, 'first') ?? Number.NaN) + Number(row.offset),
      last: (secondsAt(row, 'last') ?? Number.NaN) + Number(row.offset),
    }))
  return (time) => {
    if (time === null) return null
    const apart = spans.map(({ first, last }) => Math.max(first - time, 0, time - last))
    const least = apart.reduce((best, each, i) => (each < (apart[best] ?? Infinity) ? i : best), -1)
    if (least >= 0 && apart[least]! <= besideS) return spans[least]!.uuid
    const day = Number.isFinite(time) ? new Date(time * 1000).toISOString().slice(0, 10) : null
    return spans.find((span) => span.day === day)?.uuid ?? null
  }
}

/** Findspots that have a time and no visit yet, put in theirs: a table of finds may come before its tracks. */
export function settleFindspots(writer: Writer, visitAt: (time: number | null) => string | null): void {
  const loose = writer.on.all(
    `SELECT uuid, found_at FROM findspots WHERE ${looseRows('findspots')} AND found_at IS NOT NULL ORDER BY id`,
  )
  for (const row of loose) {
    const visit = visitAt(secondsAt(row, 'found_at'))
    if (visit !== null) writer.update('findspots', textAt(row, 'uuid')!, { visit_uuid: visit })
  }
}

/** See SurveyFile.moveTrack. Faults: SurveyError not-found. */
export function moveTrack(writer: Writer, track: number, visit: number | null, uuid: NewUuid): StoredVisit {
  const { on } = writer
  const row = on.one('SELECT uuid, started_at, visit_uuid FROM tracks WHERE id = ? AND walked = 1', track)
  if (row === null)
    throw new SurveyError(
      'not-found',
      `There is no walked track ${track} in the survey; it may have been removed.`,
    )
  const key = visit === null ? newVisit(writer, dayOf(row), uuid) : visitOf(on, visit).uuid
  const left = textAt(row, 'visit_uuid')
  if (left !== key) {
    writer.update('tracks', textAt(row, 'uuid')!, { visit_uuid: key })
    if (left !== null) leaveVisit(writer, left, key)
  }
  const id = on.one('SELECT id FROM visits WHERE uuid = ?', key)
  return visitOf(on, Number(id?.id))
}

/** Takes a visit away that has lost its last track; its findspots and finds go to where that track went. */
function leaveVisit(writer: Writer, left: string, to: string): void {
  const { on } = writer
  if (on.one('SELECT 1 FROM tracks WHERE visit_uuid = ?', left) !== null) return
  for (const table of ['findspots', 'finds'] as const) {
    for (const row of on.all(`SELECT uuid FROM ${table} WHERE visit_uuid = ? AND uuid IS NOT NULL`, left))
      writer.update(table, textAt(row, 'uuid')!, { visit_uuid: to })
  }
  if (on.one('SELECT 1 FROM visits WHERE uuid = ?', left) !== null) writer.remove('visits', left)
}

/** See SurveyFile.countTrack. A line that is walked after all goes to the visit of its day. Faults: SurveyError not-found. */
export function countTrack(writer: Writer, track: number, walked: boolean, uuid: NewUuid): void {
  const row = writer.on.one('SELECT uuid, walked FROM tracks WHERE id = ?', track)
  if (row === null)
    throw new SurveyError('not-found', `There is no track ${track} in the survey; it may have been removed.`)
  if (row.walked !== (walked ? 1 : 0))
    writer.update('tracks', textAt(row, 'uuid')!, { walked: walked ? 1 : 0 })
  if (walked) settleTracks(writer, uuid)
}
