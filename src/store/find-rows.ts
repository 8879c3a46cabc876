import { SurveyError } from '#core/faults'
import { decodePoint } from './area-geometry.ts'
import { bytesAt, numberAt, secondsAt, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import type { CataloguedFind, FoundAt, LightFind } from './find-catalogue.ts'
import { findAt } from './find-cells.ts'
import { planarAt } from './planar-cells.ts'

const select = `SELECT finds.*, s.uuid AS findspot_uuid, s.name AS spot_name, s.geom AS spot_geom, s.easting, s.northing,
    s.grid_epsg, s.grid_method, s.accuracy_m, s.found_at, s.visit_uuid AS spot_visit, s.note AS spot_note, p.n AS photographs
  FROM finds LEFT JOIN findspots s ON s.id = finds.findspot_id
  LEFT JOIN (SELECT find_uuid, count(*) AS n FROM photographs GROUP BY find_uuid) p ON p.find_uuid = finds.uuid`

/** All finds in the order they came. Cost: linear. */
export function readCatalogue(on: Connection): CataloguedFind[] {
  return on.all(`${select} ORDER BY finds.id`).map(cataloguedFind)
}

const lightColumns = `f.id, f.number, f.object, f.material, f.period, f.from_year, f.to_year, f.certainty, f.count,
  f.completeness, f.weight_g, f.length_mm, f.width_mm, f.thickness_mm, f.diameter_mm, f.depth_m, f.condition,
  f.description, coalesce(f.notes, s.note), f.finder, f.where_now, coalesce(f.visit_uuid, s.visit_uuid), f.findspot_id, s.easting, s.northing, s.accuracy_m,
  s.found_at, p.n, f.conservation, p.first, CASE WHEN s.grid_epsg = ? AND s.easting NOTNULL AND s.northing NOTNULL THEN NULL ELSE s.geom END`

/**
 * Every find by the columns that a list shows, straight from the table: no object is made of a row. Where the findspot has no position in the
 * grid asked for, the last two say where it lies. Cost: linear.
 */
export function readLightFinds(on: Connection, epsg: number | null): LightFind[] {
  const rows = on.arrays(
    `SELECT ${lightColumns} FROM finds f LEFT JOIN findspots s ON s.id = f.findspot_id
      LEFT JOIN (SELECT find_uuid, count(*) AS n, min(id) AS first FROM photographs GROUP BY find_uuid) p ON p.find_uuid = f.uuid
      ORDER BY f.id`,
    epsg ?? -1,
  )
  return rows.map((cells) => {
    const blob = cells.pop()
    const point = blob instanceof Uint8Array ? decodePoint(blob) : null
    return { cells: cells as LightFind['cells'], lon: point?.x ?? null, lat: point?.y ?? null }
  })
}

/** Faults: SurveyError not-found. */
export function catalogued(on: Connection, id: number): CataloguedFind {
  const row = on.one(`${select} WHERE finds.id = ?`, id)
  if (row === null) {
    throw new SurveyError('not-found', `There is no find ${id} in the survey; it may have been removed.`)
  }
  return cataloguedFind(row)
}

export function cataloguedWith(on: Connection, number: string): CataloguedFind | null {
  const row = on.one(`${select} WHERE finds.number = ?`, number)
  return row === null ? null : cataloguedFind(row)
}

function cataloguedFind(row: Row): CataloguedFind {
  return {
    id: numberAt(row, 'id') ?? 0,
    uuid: textAt(row, 'uuid') ?? '',
    record: findAt(row),
    givenNumber: textAt(row, 'given_number'),
    foundAt: foundAt(row),
    photographs: numberAt(row, 'photographs') ?? 0,
  }
}

function foundAt(row: Row): FoundAt | null {
  const blob = bytesAt(row, 'spot_geom')
  const point = blob === null ? null : decodePoint(blob)
  if (point === null) return null
  return {
    id: numberAt(row, 'findspot_id') ?? 0,
    uuid: textAt(row, 'findspot_uuid') ?? '',
    name: textAt(row, 'spot_name'),
    lon: point.x,
    lat: point.y,
    planar: planarAt(row),
    accuracyM: numberAt(row, 'accuracy_m'),
    time: secondsAt(row, 'found_at'),
    visit: textAt(row, 'spot_visit'),
    note: textAt(row, 'spot_note'),
  }
}

/** The UUID of a find by its row. Faults: SurveyError not-found. */
export function uuidOfFind(on: Connection, id: number): string {
  const row = on.one('SELECT uuid FROM finds WHERE id = ?', id)
  const uuid = row === null ? null : textAt(row, 'uuid')
  if (uuid === null) {
    throw new SurveyError('not-found', `There is no find ${id} in the survey; it may have been removed.`)
  }
  return uuid
}
