import { SurveyError } from '#core/faults'
import { decodePoint } from './area-geometry.ts'
import { bytesAt, numberAt, secondsAt, textAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import type { CataloguedFind, FoundAt } from './find-catalogue.ts'
import { findAt } from './find-cells.ts'
import { planarAt } from './findspot-rows.ts'

const select = `SELECT finds.*, s.uuid AS findspot_uuid, s.name AS spot_name, s.geom AS spot_geom, s.easting, s.northing,
    s.grid_epsg, s.grid_method, s.accuracy_m, s.found_at, s.note AS spot_note, p.n AS photographs
  FROM finds LEFT JOIN findspots s ON s.id = finds.findspot_id
  LEFT JOIN (SELECT find_uuid, count(*) AS n FROM photographs GROUP BY find_uuid) p ON p.find_uuid = finds.uuid`

/** All finds in the order they came. Cost: linear. */
export function readCatalogue(on: Connection): CataloguedFind[] {
  return on.all(`${select} ORDER BY finds.id`).map(cataloguedFind)
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
