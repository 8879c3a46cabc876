import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { encodePoint } from './area-geometry.ts'
import { Connection } from './connection.ts'
import { geopackageTables, rtreeOf } from './migrations/geopackage-tables.ts'

type Value = string | number | null

/** One find for a layer of its own: degrees on WGS84, null for no place, and its values by column. */
export interface LayerFind {
  readonly lon: number | null
  readonly lat: number | null
  readonly values: Readonly<Record<string, Value>>
}

const wgs84 = `INSERT INTO gpkg_spatial_ref_sys VALUES
  ('Undefined Cartesian SRS', -1, 'NONE', -1, 'undefined', NULL),
  ('Undefined geographic SRS', 0, 'NONE', 0, 'undefined', NULL),
  ('WGS 84', 4326, 'EPSG', 4326, 'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]', NULL);`

/** A column is REAL or INTEGER where every value in it is a number, else TEXT. */
function typeOf(column: string, finds: readonly LayerFind[]): string {
  let type = ''
  for (const { values } of finds) {
    const value = values[column]
    if (typeof value === 'string') return 'TEXT'
    if (typeof value !== 'number') continue
    if (!Number.isInteger(value)) type = 'REAL'
    else if (type === '') type = 'INTEGER'
  }
  return type || 'TEXT'
}

/** Every column that some find has, in the order met. */
function columnsOf(finds: readonly LayerFind[]): string[] {
  const columns = new Set<string>()
  for (const { values } of finds) for (const column in values) columns.add(column)
  return [...columns]
}

function fill(on: Connection, finds: readonly LayerFind[]): void {
  const columns = columnsOf(finds)
  const named = columns.map((column) => `"${column}" ${typeOf(column, finds)}`)
  on.db.exec(geopackageTables)
  on.db.exec(wgs84)
  on.db.exec(
    `CREATE TABLE finds (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, ${named.join(', ')}, geom POINT)`,
  )
  const at = finds.flatMap(({ lon, lat }) => (lon === null || lat === null ? [] : [[lon, lat] as const]))
  const least = (i: 0 | 1): number =>
    at.reduce((low, place) => Math.min(low, place[i]), Number.POSITIVE_INFINITY)
  const most = (i: 0 | 1): number =>
    at.reduce((high, place) => Math.max(high, place[i]), Number.NEGATIVE_INFINITY)
  const bounds = at.length === 0 ? [null, null, null, null] : [least(0), least(1), most(0), most(1)]
  on.run(
    `INSERT INTO gpkg_contents (table_name, data_type, identifier, description, min_x, min_y, max_x, max_y, srs_id)
      VALUES ('finds', 'features', 'finds', 'Finds of a survey', ?, ?, ?, ?, 4326)`,
    ...bounds,
  )
  on.db.exec("INSERT INTO gpkg_geometry_columns VALUES ('finds', 'geom', 'POINT', 4326, 0, 0)")
  on.db.exec(rtreeOf('finds'))
  const insert = `INSERT INTO finds (${columns.map((column) => `"${column}"`).join(', ')}, geom)
    VALUES (${columns.map(() => '?').join(', ')}, ?)`
  const statement = on.sql(insert)
  for (const { lon, lat, values } of finds) {
    const geometry = lon === null || lat === null ? null : encodePoint(lon, lat)
    statement.run(...columns.map((column) => values[column] ?? null), geometry)
  }
}

/** Finds as a GeoPackage 1.3 of one point layer, in WGS84, with an index; its bytes. Cost: linear; a file in the temporary folder meanwhile. */
export function findsGeoPackage(finds: readonly LayerFind[]): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), 'lynchet-'))
  const file = join(folder, 'finds.gpkg')
  try {
    const on = new Connection(file, { access: 'write' })
    try {
      // 'GPKG' and 1.3.0, as every GeoPackage says in its header.
      on.db.exec('PRAGMA application_id = 1196444487; PRAGMA user_version = 10300')
      on.transaction('IMMEDIATE', () => fill(on, finds))
    } finally {
      on.close()
    }
    return new Uint8Array(readFileSync(file))
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
