import type { GroundLines } from '#core/imagery'

/** The cells of a raster, row by row from the upper left one. */
interface RasterCells {
  readonly columns: number
  readonly rows: number
  /** Bytes or 32-bit floats. */
  readonly cells: Uint8Array | Float32Array
  /** Values in each cell: 1 (the usual), or 3 for red, green, blue side by side. */
  readonly samples?: 1 | 3
  /** The value that means "no data", NaN among them; left out for none. */
  readonly noData?: number
}

/** A raster in a planar grid: row 0 is the northernmost; `west`, `north` are the outer edges, metres. */
export interface PlainRaster extends RasterCells {
  readonly epsg: number
  readonly west: number
  readonly north: number
  readonly cellM: number
}

/** The system that a raster lies in, by its EPSG code. */
export interface RasterSystem {
  readonly epsg: number
  /** True for one of degrees. */
  readonly geographic: boolean
}

/** A raster that lies as another one does, in whatever system, turned or not. */
export interface PlacedRaster extends RasterCells {
  readonly lines: GroundLines
  /** Null where it is not known. */
  readonly system: RasterSystem | null
}

/** TIFF 6.0 field types, with their size in bytes. */
const fieldTypes = { ascii: [2, 1], short: [3, 2], long: [4, 4], double: [12, 8] } as const

interface Field {
  readonly tag: number
  readonly type: keyof typeof fieldTypes
  readonly values: readonly number[]
}

/** Geo keys (OGC GeoTIFF 1.1, 19-008r4): a cell is an area; the model, and the system by its code, where it is known. */
function systemField(system: RasterSystem | null): Field {
  const model = system?.geographic ? 2 : 1
  const coded = system && [
    1024,
    0,
    1,
    model,
    1025,
    0,
    1,
    1,
    system.geographic ? 2048 : 3072,
    0,
    1,
    system.epsg,
  ]
  return { tag: 34_735, type: 'short', values: coded ? [1, 1, 0, 3, ...coded] : [1, 1, 0, 1, 1025, 0, 1, 1] }
}

const lettersOf = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0))

/** Where the upper left corner lies and what a column and a row add: as scale and tie point, or where it is turned as a matrix. */
function placeFields(lines: GroundLines): Field[] {
  const { easting, northing, eastingPerColumn, northingPerColumn, eastingPerRow, northingPerRow } = lines
  if (northingPerColumn === 0 && eastingPerRow === 0 && eastingPerColumn > 0 && northingPerRow < 0) {
    return [
      { tag: 33_550, type: 'double', values: [eastingPerColumn, -northingPerRow, 0] },
      { tag: 33_922, type: 'double', values: [0, 0, 0, easting, northing, 0] },
    ]
  }
  const east = [eastingPerColumn, eastingPerRow, 0, easting]
  const north = [northingPerColumn, northingPerRow, 0, northing]
  return [{ tag: 34_264, type: 'double', values: [...east, ...north, 0, 0, 0, 0, 0, 0, 0, 1] }]
}

function groundFields(raster: PlainRaster | PlacedRaster): Field[] {
  if ('lines' in raster) return [...placeFields(raster.lines), systemField(raster.system)]
  const { epsg, west, north, cellM } = raster
  const lines = {
    ...{ easting: west, northing: north, eastingPerColumn: cellM, northingPerColumn: 0 },
    ...{ eastingPerRow: 0, northingPerRow: -cellM },
  }
  return [...placeFields(lines), systemField({ epsg, geographic: false })]
}

function fieldsOf(raster: PlainRaster | PlacedRaster, dataAt: number): Field[] {
  const { columns, rows, cells, samples = 1, noData } = raster
  const { BYTES_PER_ELEMENT: size, byteLength } = cells
  const each = (value: number): number[] => new Array<number>(samples).fill(value)
  const fields: Field[] = [
    { tag: 256, type: 'long', values: [columns] },
    { tag: 257, type: 'long', values: [rows] },
    { tag: 258, type: 'short', values: each(8 * size) },
    { tag: 259, type: 'short', values: [1] },
    { tag: 262, type: 'short', values: [samples === 3 ? 2 : 1] },
    { tag: 273, type: 'long', values: [dataAt] },
    { tag: 277, type: 'short', values: [samples] },
    { tag: 278, type: 'long', values: [rows] },
    { tag: 279, type: 'long', values: [byteLength] },
    { tag: 284, type: 'short', values: [1] },
    // Sample format: 1 whole numbers from 0 up, 3 floating point.
    { tag: 339, type: 'short', values: each(size === 4 ? 3 : 1) },
    ...groundFields(raster),
  ]
  if (noData !== undefined)
    fields.push({ tag: 42_113, type: 'ascii', values: lettersOf(`${noData}\0`.toLowerCase()) })
  return fields
}

const sizeOf = ({ type, values }: Field): number => fieldTypes[type][1] * values.length

function putValues(view: DataView, at: number, { type, values }: Field): void {
  for (const [i, value] of values.entries()) {
    if (type === 'ascii') view.setUint8(at + i, value)
    else if (type === 'short') view.setUint16(at + 2 * i, value, true)
    else if (type === 'long') view.setUint32(at + 4 * i, value, true)
    else view.setFloat64(at + 8 * i, value, true)
  }
}

/** The machines this runs on keep numbers little end first too, so their bytes are copied as they are. */
function putCells(bytes: Uint8Array, at: number, cells: Uint8Array | Float32Array): void {
  bytes.set(new Uint8Array(cells.buffer, cells.byteOffset, cells.byteLength), at)
}

/**
 * A plain GeoTIFF: little-endian, one uncompressed strip, of bytes, colours or floats. Written here and not by a library because the one at hand takes a
 * quarter of a microsecond a byte, twenty seconds for the cover of a large field.
 *
 * Cost    one copy of the cells.
 * Source  TIFF 6.0 (Adobe 1992); OGC GeoTIFF 1.1; tag 42113 as GDAL reads it.
 * Faults  RangeError where cells and size disagree or the file would pass 4 GB.
 */
export function writeGeoTiff(raster: PlainRaster | PlacedRaster): Uint8Array {
  const { columns, rows, cells, samples = 1 } = raster
  if (cells.length !== columns * rows * samples)
    throw new RangeError(`${columns} x ${rows} cells of ${samples}, but ${cells.length} values`)
  const directoryAt = 8
  const sizes = fieldsOf(raster, 0).map(sizeOf)
  const directoryBytes = 2 + 12 * sizes.length + 4
  const longBytes = sizes.filter((size) => size > 4).reduce((sum, size) => sum + size + (size % 2), 0)
  const dataAt = directoryAt + directoryBytes + longBytes
  if (dataAt + cells.byteLength >= 2 ** 32) throw new RangeError('a plain TIFF holds less than 4 GB')
  const bytes = new Uint8Array(dataAt + cells.byteLength)
  const view = new DataView(bytes.buffer)
  const fields = fieldsOf(raster, dataAt)
  bytes.set([0x49, 0x49, 42, 0, directoryAt])
  view.setUint16(directoryAt, fields.length, true)
  let longAt = directoryAt + directoryBytes
  for (const [i, field] of fields.entries()) {
    const at = directoryAt + 2 + 12 * i
    view.setUint16(at, field.tag, true)
    view.setUint16(at + 2, fieldTypes[field.type][0], true)
    view.setUint32(at + 4, field.values.length, true)
    const size = sizeOf(field)
    if (size <= 4) putValues(view, at + 8, field)
    else {
      view.setUint32(at + 8, longAt, true)
      putValues(view, longAt, field)
      longAt += size + (size % 2)
    }
  }
  putCells(bytes, dataAt, cells)
  return bytes
}
