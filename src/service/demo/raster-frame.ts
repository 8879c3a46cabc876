import { fromGrid, type Place } from './scenario.ts'

/** A raster over the field: its outer edges, metres in EPSG:27700, and its cell. */
export interface Frame {
  readonly west: number
  readonly north: number
  readonly columns: number
  readonly rows: number
  readonly cellM: number
}

/** Calls `put` for the middle of each cell, row by row from the north-west corner. */
export function eachCell(
  { west, north, columns, rows, cellM }: Frame,
  put: (place: Place, cell: number) => void,
): void {
  for (let row = 0, cell = 0; row < rows; row++)
    for (let column = 0; column < columns; column++, cell++)
      put(fromGrid(west + (column + 0.5) * cellM, north - (row + 0.5) * cellM), cell)
}
