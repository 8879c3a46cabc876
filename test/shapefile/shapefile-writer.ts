import { zipSync } from 'fflate'

/** Shapes to write: rings and lines as lists of x, y pairs, points as one pair. Kinds by the Technical Description's numbers. */
export interface TestShape {
  readonly kind: number
  readonly parts?: readonly (readonly number[])[]
}

/** The content of a record: kinds 0, 1, 3, 5, 8 and their forms with z (always 7) and m (always 9). */
function content({ kind, parts = [] }: TestShape): Uint8Array {
  const points = parts.flat()
  const count = points.length / 2
  const [tens, ones] = [Math.floor(kind / 10), kind % 10]
  const bytes = new Uint8Array(44 + 4 * parts.length + 32 * count + 40)
  const view = new DataView(bytes.buffer)
  let at = 0
  const int = (value: number): void => {
    view.setInt32(at, value, true)
    at += 4
  }
  const double = (value: number): void => {
    view.setFloat64(at, value, true)
    at += 8
  }
  int(kind)
  if (kind === 0) return bytes.subarray(0, at)
  if (ones !== 1) {
    for (const edge of [0, 0, 0, 0]) double(edge)
    if (ones !== 8) int(parts.length)
    int(count)
    let start = 0
    if (ones !== 8) {
      for (const part of parts) {
        int(start)
        start += part.length / 2
      }
    }
  }
  points.forEach(double)
  const series = (value: number): void => {
    if (ones !== 1) [value, value].forEach(double)
    for (let i = 0; i < count; i++) double(value)
  }
  if (tens === 1) series(7)
  if (tens > 0) series(9)
  return bytes.subarray(0, at)
}

/** A .shp and its .shx. */
export function shapeFile(shapes: readonly TestShape[]): { shp: Uint8Array; shx: Uint8Array } {
  const contents = shapes.map(content)
  const total = contents.reduce((sum, { length }) => sum + 8 + length, 100)
  const [shp, shx] = [new Uint8Array(total), new Uint8Array(100 + 8 * shapes.length)]
  const kind = shapes.find((shape) => shape.kind !== 0)?.kind ?? 0
  for (const file of [shp, shx]) {
    const view = new DataView(file.buffer)
    view.setInt32(0, 9994)
    view.setInt32(24, file.length / 2)
    view.setInt32(28, 1000, true)
    view.setInt32(32, kind, true)
  }
  let at = 100
  contents.forEach((bytes, i) => {
    for (const [file, place, first] of [
      [shp, at, i + 1],
      [shx, 100 + 8 * i, at / 2],
    ] as const) {
      const view = new DataView(file.buffer)
      view.setInt32(place, first)
      view.setInt32(place + 4, bytes.length / 2)
    }
    shp.set(bytes, at + 8)
    at += 8 + bytes.length
  })
  return { shp, shx }
}

/** A table of one column NAME of text, ten bytes wide; a null name is a row marked as deleted. */
export function table(names: readonly (string | null)[], { language = 0, version = 3 } = {}): Uint8Array {
  const bytes = new Uint8Array(65 + 11 * names.length).fill(0x20, 65)
  const view = new DataView(bytes.buffer)
  bytes[0] = version
  view.setUint32(4, names.length, true)
  view.setUint16(8, 65, true)
  view.setUint16(10, 11, true)
  bytes[29] = language
  bytes.set(Buffer.from('NAME\0\0\0\0\0\0\0C', 'latin1'), 32)
  bytes[48] = 10
  bytes[64] = 0x0d
  names.forEach((name, i) => {
    bytes.set(Buffer.from(name === null ? '*gone' : ` ${name}`, 'latin1').subarray(0, 11), 65 + 11 * i)
  })
  return bytes
}

export const wgs84 =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]'

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)

/** An archive of one layer `field`; parts left out are not in it. `.prj` is WGS84 unless given, null for none. */
export function layerZip(parts: {
  readonly shp: Uint8Array
  readonly shx?: Uint8Array
  readonly dbf?: Uint8Array
  readonly prj?: string | null
  readonly cpg?: string
}): Uint8Array {
  const { shp, shx, dbf, prj = wgs84, cpg } = parts
  return zipSync({
    'field.shp': shp,
    ...(shx ? { 'field.shx': shx } : {}),
    ...(dbf ? { 'field.dbf': dbf } : {}),
    ...(prj === null ? {} : { 'field.prj': utf8(prj) }),
    ...(cpg === undefined ? {} : { 'field.cpg': utf8(cpg) }),
  })
}
