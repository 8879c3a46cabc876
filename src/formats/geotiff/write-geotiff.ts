import { writeArrayBuffer } from 'geotiff'

/** A raster of one byte a cell in a planar grid: row 0 is the northernmost; `west`, `north` are the outer edges, metres. */
export interface ByteRaster {
  readonly epsg: number
  readonly west: number
  readonly north: number
  readonly cellM: number
  readonly columns: number
  readonly rows: number
  readonly cells: Uint8Array
  /** The value that means "no data". */
  readonly noData: number
}

/**
 * A plain (uncompressed, stripped) GeoTIFF. The library can write no compressed one: it only sets the tag.
 * Cost: the cells twice over in memory. Source: OGC GeoTIFF 1.1 (19-008r4) for the keys.
 */
export function writeGeoTiff(raster: ByteRaster): Uint8Array {
  const { epsg, west, north, cellM, columns, rows, cells, noData } = raster
  if (cells.length !== columns * rows)
    throw new RangeError(`${columns} x ${rows} cells, but ${cells.length} values`)
  const projectedModel = 1
  const cellIsArea = 1
  const tags = {
    width: columns,
    height: rows,
    ModelPixelScale: [cellM, cellM, 0],
    ModelTiepoint: [0, 0, 0, west, north, 0],
    GTModelTypeGeoKey: projectedModel,
    GTRasterTypeGeoKey: cellIsArea,
    ProjectedCSTypeGeoKey: epsg,
    GDAL_NODATA: String(noData),
  }
  // The library's own type leaves out the tags it passes through.
  return new Uint8Array(writeArrayBuffer(cells, tags as unknown as Parameters<typeof writeArrayBuffer>[1]))
}
