import { DatabaseSync } from 'node:sqlite'

/**
 * A connection as another GIS program has it: GeoPackage's functions, none of ours, and no foreign keys asked for. Knows
 * only the geometries that these tests put in: a point without an envelope, or a header with one.
 */
export function otherProgram(path: string): DatabaseSync {
  const db = new DatabaseSync(path, { enableForeignKeyConstraints: false, timeout: 5000 })
  const edge = (envelopeAt: number, pointAt: number) => (blob: unknown) => {
    if (!(blob instanceof Uint8Array)) return null
    const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
    return view.getFloat64((blob[3]! & 0x0e) === 0 ? pointAt : envelopeAt, true)
  }
  db.function('ST_IsEmpty', (blob) => (blob instanceof Uint8Array ? (blob[3]! >> 4) & 1 : null))
  db.function('ST_MinX', edge(8, 13))
  db.function('ST_MaxX', edge(16, 13))
  db.function('ST_MinY', edge(24, 21))
  db.function('ST_MaxY', edge(32, 21))
  return db
}
