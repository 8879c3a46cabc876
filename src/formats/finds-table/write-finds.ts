import type { FindRecord } from '#core/finds'
import { type Cell, csvTable, numberCell } from '#formats/csv'
import { fixedDecimal, plainDecimal } from '#formats/decimal'
import { writeXlsx, type XlsxCell } from '#formats/xlsx'
import { cellOfFind, type OwnColumn } from './cell-codec.ts'
import { ownHeadings, type PlaceColumn, placeColumns } from './find-columns.ts'

/** Where and when a find was made, as written beside it. */
export interface WrittenPlace {
  /** Degrees on WGS84. */
  readonly lat: number
  readonly lon: number
  readonly easting: number | null
  readonly northing: number | null
  readonly epsg: number | null
  readonly gridRef: string | null
  readonly accuracyM: number | null
  /** ISO 8601 day or time. */
  readonly foundOn: string | null
}

/**
 * What is written of the place of a find. Null where it has none, and null for all in a copy that is to keep places
 * private: then no column of a place holds anything.
 */
export type PlaceOf = (find: FindRecord) => WrittenPlace | null

/** The text of each column of a place; empty where nothing is known. Degrees to 1 mm, metres to 1 mm. */
export function placeTexts(place: WrittenPlace): Readonly<Record<PlaceColumn, string>> {
  const number = (value: number | null): string => (value === null ? '' : plainDecimal(value))
  const metres = (value: number | null): string => (value === null ? '' : fixedDecimal(value, 3))
  return {
    lat: fixedDecimal(place.lat, 8),
    lon: fixedDecimal(place.lon, 8),
    easting: metres(place.easting),
    northing: metres(place.northing),
    epsg: number(place.epsg),
    gridRef: place.gridRef ?? '',
    position: '',
    accuracyM: number(place.accuracyM),
    foundOn: place.foundOn ?? '',
  }
}

const isPlace = (column: string): column is PlaceColumn =>
  (placeColumns as readonly string[]).includes(column)
/** Columns of a place that hold text; the others hold numbers. */
const inWords: readonly PlaceColumn[] = ['gridRef', 'foundOn', 'position']

function* tableRows(finds: readonly FindRecord[], placeOf: PlaceOf): Generator<readonly Cell[]> {
  for (const find of finds) {
    const place = placeOf(find)
    const texts = place === null ? null : placeTexts(place)
    yield ownHeadings.map(([, column]): Cell => {
      if (isPlace(column)) {
        const text = texts?.[column] ?? ''
        return inWords.includes(column) ? { text } : text
      }
      const value = cellOfFind(find, column as OwnColumn)
      return typeof value === 'string' ? { text: value } : numberCell(value)
    })
  }
}

const headings = ownHeadings.map(([heading]) => heading)

/**
 * A table of finds as CSV (RFC 4180, UTF-8), one row a find, with the columns of `ownHeadings`. Text that a spreadsheet would
 * run is guarded by an apostrophe; reading takes it off. Reading the table back changes nothing; blanks at the ends of texts do not count.
 *
 * Cost  one pass, the text in memory.
 */
export function findsCsv(finds: readonly FindRecord[], placeOf: PlaceOf): string {
  return csvTable(headings, tableRows(finds, placeOf))
}

/** The same table as a workbook. */
export function findsXlsx(finds: readonly FindRecord[], placeOf: PlaceOf): Uint8Array {
  function* rows(): Generator<readonly XlsxCell[]> {
    for (const row of tableRows(finds, placeOf)) {
      yield row.map((cell) => (typeof cell !== 'string' ? cell.text : cell === '' ? null : Number(cell)))
    }
  }
  return writeXlsx('Finds', headings, rows())
}
