import type { Placement } from '#core/imagery'

/** A raster north up, as its placement has it. */
export interface TileFrame {
  readonly placing: Placement
  readonly columns: number
  readonly rows: number
}

/** Two tiles as one: the whole frame, and where each tile's upper left cell lies in it. */
export interface JoinedFrame extends TileFrame {
  readonly first: { readonly column: number; readonly row: number }
  readonly second: { readonly column: number; readonly row: number }
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

/**
 * Two rasters of one system as one, where they abut: cells of the same size, on one lattice, touching along a side (or overlapping by a rim). Null
 * where they do not. A corner alone does not join them.
 */
export function joinedFrame(a: TileFrame, b: TileFrame): JoinedFrame | null {
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
  const [wide, high] = [shared(column, a.columns, b.columns), shared(row, a.rows, b.rows)]
  if (wide < 0 || high < 0 || (wide === 0 && high === 0)) return null
  if (wide * high > mostOverlap * Math.min(a.columns * a.rows, b.columns * b.rows)) return null
  const [left, top] = [Math.min(0, column), Math.min(0, row)]
  const columns = Math.max(a.columns, column + b.columns) - left
  const rows = Math.max(a.rows, row + b.rows) - top
  const placing = shifted(a.placing, left, top)
  const at = (c: number, r: number) => ({ column: c - left, row: r - top })
  return { placing, columns, rows, first: at(0, 0), second: at(column, row) }
}

/** The placement of a raster that begins so many columns and rows later (earlier where below 0). */
function shifted(
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
