import { readFileSync } from 'node:fs'
import type { Terrain } from '#core/relief'

/** A raster as JSON rows from the north; null for none. */
export type JsonRows = readonly (readonly (number | null)[])[]

const fixture = (name: string): URL => new URL(`../../fixtures/relief/${name}`, import.meta.url)

export const fixtureBytes = (name: string): Uint8Array => new Uint8Array(readFileSync(fixture(name)))

export function fixtureJson<Content>(name: string): Content {
  return JSON.parse(readFileSync(fixture(name), 'utf8')) as Content
}

export const fixtureCsv = (name: string): Float32Array =>
  Float32Array.from(readFileSync(fixture(name), 'utf8').trim().split(/[\n,]/), Number)

export const valuesOf = (rows: JsonRows): Float32Array =>
  Float32Array.from(rows.flat(), (value) => value ?? Number.NaN)

/** A terrain by a formula of place: metres east and north of the middle of the south-west cell. */
export function terrainOf(
  columns: number,
  rows: number,
  [cellX, cellY]: readonly [number, number],
  height: (east: number, north: number) => number,
): Terrain {
  const values = Float32Array.from({ length: columns * rows }, (_, i) =>
    height((i % columns) * cellX, (rows - 1 - Math.floor(i / columns)) * cellY),
  )
  return { columns, rows, cellX, cellY, values }
}

/** Turned a quarter clockwise: what lay north lies east. */
export function turned({ columns, rows, cellX, cellY, values }: Terrain): Terrain {
  const out = new Float32Array(values.length)
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) out[c * rows + (rows - 1 - r)] = values[r * columns + c]!
  return { columns: rows, rows: columns, cellX: cellY, cellY: cellX, values: out }
}

export interface Difference {
  /** Largest difference where both have a value. */
  readonly most: number
  readonly mean: number
  /** Cells where one has a value and the other none. */
  readonly unlike: number
  readonly compared: number
}

/** How far two pictures are apart; bytes of 0 and NaN stand for no value. `cell` may leave cells out. */
export function difference(
  ours: Float32Array | Uint8Array,
  theirs: Float32Array | Uint8Array,
  cell: (i: number) => boolean = () => true,
): Difference {
  const valueAt = (picture: Float32Array | Uint8Array, i: number): number =>
    picture instanceof Uint8Array && picture[i] === 0 ? Number.NaN : picture[i]!
  let [most, sum, unlike, compared] = [0, 0, 0, 0]
  for (let i = 0; i < theirs.length; i++) {
    if (!cell(i)) continue
    const apart = Math.abs(valueAt(ours, i) - valueAt(theirs, i))
    if (Number.isNaN(apart)) {
      if (Number.isNaN(valueAt(ours, i)) !== Number.isNaN(valueAt(theirs, i))) unlike++
      continue
    }
    compared++
    sum += apart
    most = Math.max(most, apart)
  }
  return { most, mean: sum / compared, unlike, compared }
}
