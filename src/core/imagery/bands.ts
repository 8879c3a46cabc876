/** The values of one band of an image, row by row from the upper left corner. */
export type BandValues =
  | Uint8Array
  | Uint8ClampedArray
  | Uint16Array
  | Int16Array
  | Uint32Array
  | Float32Array

/**
 * An image, or a piece of one, band by band. A pixel holds nothing where its alpha is 0, where a band that is looked at
 * is not a finite number, or where every band has the value `noData`.
 */
export interface Bands {
  readonly columns: number
  readonly rows: number
  /** At least one; each of `columns * rows` values. Alpha is not among them. */
  readonly bands: readonly BandValues[]
  /** One byte a pixel: 0 nothing, 255 whole; null where every pixel counts. */
  readonly alpha: Uint8Array | Uint8ClampedArray | null
  /** The value that means "nothing here"; null for none. */
  readonly noData: number | null
}

/** Faults: RangeError where the size makes no sense or a band has another size. */
export function checkBands({ columns, rows, bands, alpha }: Bands): void {
  if (!(Number.isInteger(columns) && Number.isInteger(rows) && columns > 0 && rows > 0))
    throw new RangeError(`an image needs whole columns and rows, got ${columns} x ${rows}`)
  if (bands.length === 0) throw new RangeError('an image needs a band')
  for (const { length } of alpha === null ? bands : [...bands, alpha])
    if (length !== columns * rows)
      throw new RangeError(`${columns} x ${rows} pixels, but a band of ${length} values`)
}

/** True where the values are bytes, which are shown as they are. */
export function isByteBand(values: BandValues): boolean {
  return values instanceof Uint8Array || values instanceof Uint8ClampedArray
}

/**
 * Takes an image apart whose bands lie side by side in each pixel. Cost: one pass, one copy.
 * Faults: RangeError where sizes disagree.
 *
 * @param alphaChannel counted from 0; null for an image without alpha
 */
export function bandsFromInterleaved(
  values: BandValues,
  size: { readonly columns: number; readonly rows: number; readonly channels: number },
  alphaChannel: number | null = null,
  noData: number | null = null,
): Bands {
  const { columns, rows, channels } = size
  const n = columns * rows
  if (values.length !== n * channels)
    throw new RangeError(`${columns} x ${rows} pixels of ${channels} channels, but ${values.length} values`)
  const planes = Array.from({ length: channels }, (_, channel) => {
    const plane = values.slice(0, n)
    for (let i = 0, p = channel; i < n; i++, p += channels) plane[i] = values[p]!
    return plane
  })
  const bands = planes.filter((_, channel) => channel !== alphaChannel)
  return { columns, rows, bands, alpha: alphaFrom(alphaChannel, planes), noData }
}

/** Alpha of bytes is taken as it is; of wider numbers, whatever is above 0 is whole. */
function alphaFrom(channel: number | null, planes: readonly BandValues[]): Uint8Array | null {
  if (channel === null) return null
  const plane = planes[channel]
  if (plane === undefined) throw new RangeError(`no channel ${channel} among ${planes.length}`)
  return plane instanceof Uint8Array ? plane : Uint8Array.from(plane, (value) => (value > 0 ? 255 : 0))
}

/** The alpha of each pixel: 0 where there is nothing in the bands looked at (counted from 0), else its own alpha or 255. */
export function alphaOf(
  { columns, rows, bands, alpha, noData }: Bands,
  looked: readonly number[],
): Uint8Array {
  const n = columns * rows
  const out = alpha === null ? new Uint8Array(n).fill(255) : Uint8Array.from(alpha)
  if (noData !== null && !Number.isNaN(noData)) {
    const value = bands[0] instanceof Float32Array ? Math.fround(noData) : noData
    for (let i = 0; i < n; i++) if (bands.every((band) => band[i] === value)) out[i] = 0
  }
  for (const band of looked) {
    const values = bands[band]!
    if (!(values instanceof Float32Array)) continue
    for (let i = 0; i < n; i++) if (!Number.isFinite(values[i]!)) out[i] = 0
  }
  return out
}
