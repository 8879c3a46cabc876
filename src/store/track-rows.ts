import { SurveyError } from '#core/faults'
import {
  attributesAt,
  attributesCell,
  bytesAt,
  bytesOf,
  dateTimeCell,
  numberAt,
  secondsAt,
  textAt,
} from './cells.ts'
import type { Cell, Connection, Row } from './connection.ts'
import { givenAt, givenCells } from './given-planar.ts'
import type { PlacedTrack, StoredTrack, StoredTrackRow } from './survey-file.ts'
import { besideFixes, detailAt, detailCell } from './track-detail.ts'
import { decodeTrack, encodeTrack, type TrackFixes } from './track-geometry.ts'
import { visitsOfTracks } from './visit-rows.ts'

/** Cells of a track. Faults: RangeError for series whose lengths do not fit. */
export function newTrackCells(
  track: PlacedTrack,
  uuid: string,
  originalId: number | null,
): Record<string, Cell> {
  const { recorded } = track
  assertAligned(track)
  const { blob, single } = encodeTrack(recorded)
  const [start, end] = timeSpan(recorded.time)
  return {
    uuid,
    name: recorded.name,
    walked: recorded.walked ? 1 : 0,
    fixes: recorded.xy.length / 2,
    started_at: dateTimeCell(start),
    ended_at: dateTimeCell(end),
    attributes: attributesCell(recorded.attributes),
    original_id: originalId,
    detail: detailCell(recorded, single),
    hdop: recorded.hdop === null ? null : bytesOf(recorded.hdop),
    ...givenCells(track.given, recorded.xy),
    geom: blob,
  }
}

function assertAligned({ recorded }: PlacedTrack): void {
  const fixes = recorded.xy.length / 2
  for (const series of [recorded.time, recorded.elevation, recorded.hdop]) {
    if (series !== null && series.length !== fixes) {
      throw new RangeError(`a series of ${series.length} beside ${fixes} fixes`)
    }
  }
  if (fixes > 0 && recorded.segmentStart[0] !== 0)
    throw new RangeError('the first segment must start at fix 0')
  if (recorded.segmentStart.some((start, s) => start > (recorded.segmentStart[s + 1] ?? fixes))) {
    throw new RangeError('segments must follow one another inside the fixes')
  }
}

/** Earliest and latest known time. */
function timeSpan(time: Float64Array | null): [number | null, number | null] {
  let start = Infinity
  let end = -Infinity
  for (const t of time ?? []) {
    if (t < start) start = t
    if (t > end) end = t
  }
  return start <= end ? [start, end] : [null, null]
}

const rowColumns = `tracks.id, tracks.uuid, tracks.name, walked, fixes, started_at, ended_at,
  originals.name AS original_name FROM tracks LEFT JOIN originals ON originals.id = tracks.original_id`

/** All tracks without their fixes. Cost: small, but for tracks that another program changed, which are decoded. */
export function readTrackRows(on: Connection): StoredTrackRow[] {
  const visits = visitsOfTracks(on)
  return on.all(`SELECT ${rowColumns} ORDER BY tracks.id`).map((row) => {
    const id = numberAt(row, 'id') ?? 0
    const fixes = numberAt(row, 'fixes')
    const [start, end] =
      fixes === null
        ? timeSpan(readFixes(on, id).time)
        : [secondsAt(row, 'started_at'), secondsAt(row, 'ended_at')]
    return {
      id,
      uuid: textAt(row, 'uuid') ?? '',
      originalName: textAt(row, 'original_name'),
      name: textAt(row, 'name'),
      visitId: visits.get(id) ?? null,
      walked: numberAt(row, 'walked') === 1,
      fixes: fixes ?? readFixes(on, id).xy.length / 2,
      start,
      end,
    }
  })
}

/** Number of fixes in all tracks. Cost as `readTrackRows`. */
export function countFixes(on: Connection): number {
  const known = on.one('SELECT total(fixes) AS n FROM tracks WHERE fixes IS NOT NULL')
  const others = on.all('SELECT id FROM tracks WHERE fixes IS NULL')
  return others.reduce(
    (sum, row) => sum + readFixes(on, numberAt(row, 'id') ?? 0).xy.length / 2,
    known === null ? 0 : (numberAt(known, 'n') ?? 0),
  )
}

const noFixes: TrackFixes = {
  xy: new Float64Array(0),
  segmentStart: new Uint32Array(0),
  time: null,
  elevation: null,
}

function fixesAt(row: Row): TrackFixes {
  const blob = bytesAt(row, 'geom')
  return (blob === null ? null : decodeTrack(blob, detailAt(row)?.single ?? [])) ?? noFixes
}

function readFixes(on: Connection, id: number): TrackFixes {
  const row = on.one('SELECT detail, geom FROM tracks WHERE id = ?', id)
  return row === null ? noFixes : fixesAt(row)
}

/** One track whole. Faults: SurveyError not-found. Cost: about four copies of its fixes. */
export function readTrack(on: Connection, id: number): StoredTrack {
  const row = on.one('SELECT * FROM tracks WHERE id = ?', id)
  if (row === null)
    throw new SurveyError('not-found', `There is no track ${id} in the survey; it may have been removed.`)
  const fixes = fixesAt(row)
  return {
    id,
    uuid: textAt(row, 'uuid') ?? '',
    epsg: 4326,
    name: textAt(row, 'name'),
    walked: numberAt(row, 'walked') === 1,
    ...fixes,
    ...besideFixes(row, fixes.xy.length / 2),
    attributes: attributesAt(row, 'attributes'),
    given: givenAt(row, fixes.xy),
  }
}
