import { createHash } from 'node:crypto'
import type { Bounds } from '#core/geometry'
import { bytesAt, numberAt, parsedJson, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import { type Layer, layers } from './contents.ts'
import { isFindNumber } from './find-numbers.ts'
import { geometryBounds } from './geometry-bounds.ts'
import { geometryProblem } from './geometry-problem.ts'
import { sqliteCode } from './sqlite-faults.ts'
import type { Problem } from './survey-file.ts'
import { besideFixes, detailAt } from './track-detail.ts'
import { decodeTrack } from './track-geometry.ts'

/**
 * Every check of a survey. A part that cannot even be read is a problem itself; the other parts are still looked at.
 * Cost: reads the whole file, one original at a time.
 */
export function checkSurvey(on: Connection): Problem[] {
  const parts: ((on: Connection) => Problem[])[] = [
    checkPages,
    checkReferences,
    checkMetadata,
    checkOriginals,
    ...layers.map((layer) => (connection: Connection) => checkLayer(connection, layer)),
    checkTrackDetails,
    checkRows,
  ]
  return parts.flatMap((part) => {
    try {
      return part(on)
    } catch (error) {
      if (sqliteCode(error) === null) throw error
      return [{ code: 'unreadable', text: `A part of the file cannot be read: ${(error as Error).message}.` }]
    }
  })
}

/** SQLite's own check, which takes in the R-trees. */
function checkPages(on: Connection): Problem[] {
  return on
    .all('PRAGMA integrity_check')
    .map((row) => textAt(row, 'integrity_check') ?? '')
    .filter((line) => line !== 'ok')
    .map((line) => ({ code: 'integrity', text: `SQLite finds the file damaged: ${line}.` }))
}

function checkReferences(on: Connection): Problem[] {
  return on.all('PRAGMA foreign_key_check').map((row) => ({
    code: 'reference',
    text: `Row ${row.rowid} of ${row.table} points to a row of ${row.parent} that is not there.`,
  }))
}

/** What GeoPackage requires of the tables that describe the layers. */
function checkMetadata(on: Connection): Problem[] {
  const problem = (text: string): Problem => ({ code: 'metadata', text })
  const problems: Problem[] = []
  const version = numberAt(on.one('PRAGMA user_version') ?? {}, 'user_version') ?? 0
  if (version < 10_200 || version >= 10_500)
    problems.push(problem(`The GeoPackage version reads ${version}.`))
  for (const layer of layers) {
    if (
      on.one("SELECT 1 FROM gpkg_contents WHERE table_name = ? AND data_type = 'features'", layer) === null
    ) {
      problems.push(problem(`The layer ${layer} is missing from gpkg_contents.`))
    }
    const column = on.one(
      "SELECT 1 FROM gpkg_geometry_columns WHERE table_name = ? AND column_name = 'geom' AND srs_id = 4326",
      layer,
    )
    if (column === null) problems.push(problem(`The layer ${layer} is missing from gpkg_geometry_columns.`))
    const triggers = on.one(
      "SELECT count(*) AS n FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ? AND name GLOB 'rtree_*'",
      layer,
    )
    if ((numberAt(triggers ?? {}, 'n') ?? 0) < 6) {
      problems.push(problem(`The layer ${layer} has lost triggers that keep its index.`))
    }
  }
  const unlisted = on.all(
    'SELECT srs_id FROM gpkg_contents WHERE srs_id NOT IN (SELECT srs_id FROM gpkg_spatial_ref_sys)',
  )
  return problems.concat(unlisted.map((row) => problem(`The reference system ${row.srs_id} is not defined.`)))
}

function checkOriginals(on: Connection): Problem[] {
  return on.all('SELECT id, name, sha256, size FROM originals ORDER BY id').flatMap((row) => {
    const bytes = bytesAt(on.one('SELECT bytes FROM originals WHERE id = ?', row.id ?? 0) ?? {}, 'bytes')
    const hash = bytes === null ? null : createHash('sha256').update(bytes).digest('hex')
    return hash === row.sha256 && bytes?.length === row.size
      ? []
      : [{ code: 'original', text: `The kept file ${row.name} is no longer what was imported.` }]
  })
}

const called: Record<Layer, string> = {
  areas: 'area',
  tracks: 'track',
  findspots: 'findspot',
  gaps: 'gap',
  marks: 'mark',
  targets: 'target',
  permissions: 'permission',
  lanes: 'lane',
  constraints: 'constraint',
}

/** Every geometry can be read and is indexed where it lies, and nothing else is indexed. */
function checkLayer(on: Connection, layer: Layer): Problem[] {
  const problems: Problem[] = []
  const rows = on
    .sql(`SELECT t.id, geom, r.id AS indexed, minx, maxx, miny, maxy
      FROM ${layer} t LEFT JOIN rtree_${layer}_geom r ON r.id = t.id`)
    .iterate()
  for (const row of rows) {
    const what = `The ${called[layer]} ${row.id}`
    const blob = bytesAt(row, 'geom')
    const fault = geometryProblem(layer, blob)
    if (fault !== null) problems.push({ code: 'geometry', text: `${what} ${fault}.` })
    if (!fitsIndex(blob === null ? null : geometryBounds(blob), row)) {
      problems.push({ code: 'index', text: `${what} is not where the index of its layer says.` })
    }
  }
  const strays = on.all(`SELECT id FROM rtree_${layer}_geom WHERE id NOT IN (SELECT id FROM ${layer})`)
  return problems.concat(
    strays.map((row) => ({
      code: 'index',
      text: `The index of ${layer} lists a row ${row.id} that is not there.`,
    })),
  )
}

/** The R-tree's float32 box holds the bounds, and is wider by no more than the rounding (sqlite.org/rtree.html, 3.3). */
function fitsIndex(bounds: Bounds | null, row: Row): boolean {
  const [minX, maxX, minY, maxY] = ['minx', 'maxx', 'miny', 'maxy'].map((column) => numberAt(row, column))
  if (bounds === null || !(bounds.minX <= bounds.maxX)) return row.indexed === null
  if (minX == null || maxX == null || minY == null || maxY == null) return false
  const tiny = 1e-12 // degrees: float32 has no numbers between 0 and 1e-45, so the box of such values may miss them
  const below = (low: number, value: number) =>
    low <= value + tiny && value - low <= Math.abs(value) * 1e-6 + tiny
  return (
    below(minX, bounds.minX) &&
    below(-maxX, -bounds.maxX) &&
    below(minY, bounds.minY) &&
    below(-maxY, -bounds.maxY)
  )
}

function checkTrackDetails(on: Connection): Problem[] {
  const problems: Problem[] = []
  for (const row of on.sql('SELECT name, detail, hdop, geom FROM tracks').iterate()) {
    const blob = bytesAt(row, 'geom')
    const fixes = blob === null ? null : decodeTrack(blob, detailAt(row)?.single ?? [])
    if (fixes !== null) problems.push(...besideFixes(row, fixes.xy.length / 2).problems)
  }
  return problems
}

const tablesWithUuid = [
  ...['areas', 'tracks', 'findspots', 'finds', 'marks', 'targets'],
  ...['permissions', 'ground_notes', 'plans', 'lanes', 'constraints'],
]

/** Rows that name a find, or another row by its UUID, name one that is there. A find that was removed keeps its history. */
function checkCatalogue(on: Connection): Problem[] {
  const lost = [
    ['photographs', 'find_uuid', 'finds'],
    ['joins', 'first_uuid', 'finds'],
    ['joins', 'second_uuid', 'finds'],
  ] as const
  return lost.flatMap(([table, column, of]) =>
    on
      .all(
        `SELECT id FROM ${table} WHERE ${column} IS NOT NULL AND ${column} NOT IN (SELECT uuid FROM ${of})`,
      )
      .map((row) => ({
        code: 'reference',
        text: `Row ${row.id} of ${table} names a row of ${of} by ${column} that is not there.`,
      })),
  )
}

/** Texts that ought to be JSON are, rows have a UUID, find numbers have their form. */
function checkRows(on: Connection): Problem[] {
  const problems: Problem[] = []
  const json = [
    ['areas', 'attributes'],
    ['tracks', 'attributes'],
    ['tracks', 'detail'],
    ['findspots', 'attributes'],
    ['layers', 'placing'],
    ['layers', 'tie_points'],
    ['marks', 'arc_gaps'],
    ['marks', 'seen_in'],
    ['marks', 'settings'],
    ['marks', 'seen_again'],
    ['plans', 'settings'],
    ['plans', 'figures'],
    ['plans', 'clashes'],
    ['settings', 'value'],
    ['finds', 'materials'],
    ['finds', 'parallels'],
    ['finds', 'warnings'],
    ['photographs', 'scale_line'],
    ['joins', 'reasons'],
    ['words', 'other_names'],
  ] as const
  for (const [table, column] of json) {
    for (const row of on.all(`SELECT id, ${column} AS text FROM ${table} WHERE ${column} IS NOT NULL`)) {
      if (parsedJson(textAt(row, 'text') ?? '') === undefined) {
        problems.push({
          code: 'json',
          text: `The column ${column} of row ${row.id} of ${table} is not JSON.`,
        })
      }
    }
  }
  problems.push(...checkCatalogue(on))
  for (const table of tablesWithUuid) {
    for (const row of on.all(`SELECT id FROM ${table} WHERE uuid IS NULL`)) {
      problems.push({ code: 'uuid', text: `Row ${row.id} of ${table} has no UUID.` })
    }
  }
  for (const row of on.all('SELECT id, number FROM finds')) {
    const number = textAt(row, 'number')
    if (number === null) problems.push({ code: 'number', text: `The find ${row.id} has no number.` })
    else if (!isFindNumber(number)) {
      problems.push({ code: 'number', text: `The find number ${number} is not of the form CODE-YEAR-NNN.` })
    }
  }
  return problems
}
