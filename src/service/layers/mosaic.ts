import type { Placement } from '#core/imagery'

/** A raster north up, as its placement has it. */
export interface TileFrame {
  readonly placing: Placement
  readonly columns: number
  readonly rows: number
}

interface Cell {
  readonly column: number
  readonly row: number
}

/** Two groups of tiles as one: the whole frame, and where the upper left cell of each tile lies in it. */
export interface JoinedFrame extends TileFrame {
  readonly first: readonly Cell[]
  readonly second: readonly Cell[]
}

/** Cells may lie this share of a cell off each other: tiles are written with few digits. */
const offCell = 0.01
/** Tiles of one mosaic may overlap by this share of the smaller one (a rim that some sources add); two models of the same ground overlap by all. */
const mostOverlap = 0.1

type Nine = [number, number, number, number, number, number, number, number, number]

/** Placement of the upper left corner, and size of a cell; null for a raster that is not north up. */
function northUp({ placing }: TileFrame): { x: number; y: number; dx: number; dy: number } | null {
  const [dx, turnX, x, turnY, dy, y, g, h, w] = placing.toGround as Nine
  if (placing.method !== 'affine' || turnX !== 0 || turnY !== 0 || g !== 0 || h !== 0) return null
  return { x: placing.origin[0] + x / w, y: placing.origin[1] + y / w, dx: dx / w, dy: dy / w }
}

/** Where `b` begins in the cells of `a`, and how far they overlap; null where their cells are not of one lattice. */
function relation(
  a: TileFrame,
  b: TileFrame,
): (Cell & { readonly wide: number; readonly high: number }) | null {
  const [one, two] = [northUp(a), northUp(b)]
  if (!one || !two) return null
  const sameCell =
    Math.abs(one.dx - two.dx) * Math.max(a.columns, b.columns) <= offCell * Math.abs(one.dx) &&
    Math.abs(one.dy - two.dy) * Math.max(a.rows, b.rows) <= offCell * Math.abs(one.dy)
  const [across, down] = [(two.x - one.x) / one.dx, (two.y - one.y) / one.dy]
  const [column, row] = [Math.round(across), Math.round(down)]
  if (!sameCell || Math.abs(across - column) > offCell || Math.abs(down - row) > offCell) return null
  const shared = (from: number, length: number, other: number): number =>
    Math.min(length, from + other) - Math.max(0, from)
  return { column, row, wide: shared(column, a.columns, b.columns), high: shared(row, a.rows, b.rows) }
}

/**
 * Two groups of rasters of one system as one, where some tile of one abuts some tile of the other: cells of the same size, on one lattice, touching along a
 * side (or overlapping by a rim), and no two overlapping by more. Null where they do not. A corner alone does not join them. What lies between them is
 * empty.
 */
export function joinedFrame(a: readonly TileFrame[], b: readonly TileFrame[]): JoinedFrame | null {
  const [base] = a
  if (!base) throw new RangeError('a group has at least one tile')
  let abut = false
  for (const one of a) {
    for (const two of b) {
      const found = relation(one, two)
      if (!found) return null
      const { wide, high } = found
      if (wide < 0 || high < 0 || (wide === 0 && high === 0)) continue
      if (wide * high > mostOverlap * Math.min(one.columns * one.rows, two.columns * two.rows)) return null
      abut = true
    }
  }
  if (!abut) return null
  const cellOf = (tile: TileFrame): TileFrame & Cell => ({ ...tile, ...relation(base, tile)! })
  const [ones, twos] = [a.map(cellOf), b.map(cellOf)]
  const all = [...ones, ...twos]
  const left = Math.min(...all.map(({ column }) => column))
  const top = Math.min(...all.map(({ row }) => row))
  const at = ({ column, row }: Cell): Cell => ({ column: column - left, row: row - top })
  return {
    placing: shifted(base.placing, left, top),
    columns: Math.max(...all.map(({ column, columns }) => column + columns)) - left,
    rows: Math.max(...all.map(({ row, rows }) => row + rows)) - top,
    first: ones.map(at),
    second: twos.map(at),
  }
}

/** The placement of a raster that begins so many columns and rows later (earlier where below 0). */
export function shifted(
  { method, origin, toGround, toPicture }: Placement,
  columns: number,
  rows: number,
): Placement {
  const ground = [...toGround]
  for (const k of [0, 3, 6]) ground[k + 2]! += ground[k]! * columns + ground[k + 1]! * rows
  const picture = [...toPicture]
  for (const k of [0, 1, 2]) {
    picture[k]! -= columns * picture[6 + k]!
    picture[3 + k]! -= rows * picture[6 + k]!
  }
  return { method, origin, toGround: ground, toPicture: picture }
}
