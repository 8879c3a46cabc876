import { type Bounds, emptyBounds, joinBounds } from '#core/geometry'
import { numberAt } from './cells.ts'
import type { Connection, Row } from './connection.ts'
import { geometryBounds } from './geometry-bounds.ts'

export const layers = [
  'areas',
  'tracks',
  'findspots',
  'gaps',
  'marks',
  'targets',
  'permissions',
  'lanes',
  'constraints',
] as const
export type Layer = (typeof layers)[number]

function isLayer(table: string): table is Layer {
  return (layers as readonly string[]).includes(table)
}

/**
 * What one transaction did to the tables in gpkg_contents, so that their last_change and bounds can be kept. Added
 * geometries only widen the bounds; anything else has them worked out anew, at the cost of reading the whole layer.
 */
export class ContentsUpkeep {
  readonly #touched = new Map<string, { added: Bounds; anew: boolean }>()

  added(table: string, geometry: unknown): void {
    const entry = this.#entry(table)
    const bounds = geometry instanceof Uint8Array ? geometryBounds(geometry) : null
    if (bounds !== null) entry.added = joinBounds(entry.added, bounds)
  }

  changed(table: string): void {
    this.#entry(table).anew = true
  }

  finish(on: Connection, now: string): void {
    for (const [table, { added, anew }] of this.#touched) {
      on.run('UPDATE gpkg_contents SET last_change = ? WHERE table_name = ?', now, table)
      if (!isLayer(table)) continue
      const bounds = anew ? layerBounds(on, table) : joinBounds(listedBounds(on, table), added)
      const cells = bounds.minX <= bounds.maxX ? [bounds.minX, bounds.minY, bounds.maxX, bounds.maxY] : []
      on.run(
        'UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ? WHERE table_name = ?',
        ...[0, 1, 2, 3].map((i) => cells[i] ?? null),
        table,
      )
    }
  }

  #entry(table: string): { added: Bounds; anew: boolean } {
    const entry = this.#touched.get(table) ?? { added: emptyBounds, anew: false }
    this.#touched.set(table, entry)
    return entry
  }
}

function boundsOfRow(row: Row | null): Bounds {
  const [minX, minY, maxX, maxY] = ['min_x', 'min_y', 'max_x', 'max_y'].map((column) =>
    row === null ? null : numberAt(row, column),
  )
  return minX == null || minY == null || maxX == null || maxY == null
    ? emptyBounds
    : { minX, minY, maxX, maxY }
}

function listedBounds(on: Connection, layer: Layer): Bounds {
  return boundsOfRow(
    on.one('SELECT min_x, min_y, max_x, max_y FROM gpkg_contents WHERE table_name = ?', layer),
  )
}

/** From the geometries themselves, exactly. Cost: reads the whole layer. */
function layerBounds(on: Connection, layer: Layer): Bounds {
  return boundsOfRow(
    on.one(`SELECT min(ST_MinX(geom)) AS min_x, min(ST_MinY(geom)) AS min_y,
      max(ST_MaxX(geom)) AS max_x, max(ST_MaxY(geom)) AS max_y FROM ${layer}`),
  )
}

/**
 * From the layer's R-tree, which other programs keep too. Its numbers are float32 rounded outwards: up to 0.5 m too wide
 * in British latitudes. Cost: one row of the index a feature.
 */
export function indexBounds(on: Connection, layer: Layer): Bounds {
  return boundsOfRow(
    on.one(`SELECT min(minx) AS min_x, min(miny) AS min_y, max(maxx) AS max_x, max(maxy) AS max_y
      FROM rtree_${layer}_geom`),
  )
}
