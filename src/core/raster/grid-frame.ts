import type { Bounds } from '#core/geometry'

/**
 * Where the cells of a planar grid lie: row 0 is the northernmost, column 0 the westernmost; metres. Cell edges lie on
 * whole multiples of `cellM`, so two frames of the same cell fit each other.
 */
export interface GridFrame {
  readonly epsg: number
  readonly west: number
  readonly north: number
  readonly cellM: number
  readonly columns: number
  readonly rows: number
}

/** A frame by the whole numbers of its lattice: its west edge is `column0 * cellM`, its north edge `(row0 + rows) * cellM`. */
export interface LatticeFrame extends GridFrame {
  /** Lattice column of column 0, counted eastwards from easting 0. */
  readonly column0: number
  /** Lattice row of the southernmost row, counted northwards from northing 0. */
  readonly row0: number
}

/** The multiple of a cell nearest to a lattice number, clean of the last bits that 0.1 leaves behind (to a micrometre). */
const edge = (steps: number, cellM: number): number => Math.round(steps * cellM * 1e6) / 1e6

/** The smallest frame on the lattice of `cellM` that holds the bounds; at least one cell. Faults: RangeError for empty bounds. */
export function alignedFrame(bounds: Bounds, cellM: number, epsg: number): LatticeFrame {
  const { minX, minY, maxX, maxY } = bounds
  if (!(Number.isFinite(maxX - minX) && Number.isFinite(maxY - minY) && minX <= maxX && minY <= maxY))
    throw new RangeError('a frame needs bounds that are finite and not empty')
  if (!(cellM > 0)) throw new RangeError(`a cell must be above 0 m, got ${cellM}`)
  const column0 = Math.floor(minX / cellM)
  const row0 = Math.floor(minY / cellM)
  const columns = Math.max(1, Math.ceil(maxX / cellM) - column0)
  const rows = Math.max(1, Math.ceil(maxY / cellM) - row0)
  return {
    epsg,
    west: edge(column0, cellM),
    north: edge(row0 + rows, cellM),
    cellM,
    columns,
    rows,
    column0,
    row0,
  }
}
