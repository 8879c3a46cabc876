/**
 * Where a picture lies on the ground. Pictures are measured in pixels from the outer corner of the upper left pixel (so the middle of
 * that pixel is 0.5, 0.5), columns to the right and rows down; the ground in metres of one planar grid. Plain numbers, fit for JSON.
 */
export interface Placement {
  readonly method: 'affine' | 'projective'
  /** The place on the ground that the matrices count from, so that no digits are lost to large eastings and northings. */
  readonly origin: readonly [easting: number, northing: number]
  /** 3 x 3, row by row: (column, row, 1) to w times (easting - origin, northing - origin, 1). w is above 0 on the picture's side of its horizon. */
  readonly toGround: readonly number[]
  /** The inverse matrix. */
  readonly toPicture: readonly number[]
}

/** Easting and northing of a place in the picture; NaN at and beyond the horizon. */
export function groundAt({ origin, toGround }: Placement, column: number, row: number): [number, number] {
  const [x, y] = mapped(toGround, column, row)
  return [origin[0] + x, origin[1] + y]
}

/** Column and row of a place on the ground; NaN for one beyond the horizon. */
export function pictureAt(
  { origin, toPicture }: Placement,
  easting: number,
  northing: number,
): [number, number] {
  return mapped(toPicture, easting - origin[0], northing - origin[1])
}

function mapped(m: readonly number[], x: number, y: number): [number, number] {
  const w = m[6]! * x + m[7]! * y + m[8]!
  if (!(w > 0)) return [Number.NaN, Number.NaN]
  return [(m[0]! * x + m[1]! * y + m[2]!) / w, (m[3]! * x + m[4]! * y + m[5]!) / w]
}

/** Easting and northing as straight-line functions of column and row, as GeoTIFF tags and world files give them. */
export interface GroundLines {
  /** Of the outer corner of the upper left pixel. */
  readonly easting: number
  readonly northing: number
  /** What one column to the right adds. */
  readonly eastingPerColumn: number
  readonly northingPerColumn: number
  /** What one row down adds. */
  readonly eastingPerRow: number
  readonly northingPerRow: number
}

/** The affine placement of such lines. Faults: RangeError where they lay the picture on a line or a point, or are not finite. */
export function placementFromLines(lines: GroundLines): Placement {
  const { easting, northing, eastingPerColumn, northingPerColumn, eastingPerRow, northingPerRow } = lines
  const matrix = [eastingPerColumn, eastingPerRow, 0, northingPerColumn, northingPerRow, 0, 0, 0, 1]
  if (!(Number.isFinite(easting) && Number.isFinite(northing)))
    throw new RangeError('a placement needs a finite corner')
  return { method: 'affine', origin: [easting, northing], toGround: matrix, toPicture: inverse3(matrix) }
}

/** The inverse of a 3 x 3 matrix. Faults: RangeError where there is none. */
export function inverse3(m: readonly number[]): number[] {
  const [a, b, c, d, e, f, g, h, i] = m as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  const adjugate = [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ]
  const determinant = a * adjugate[0]! + b * adjugate[3]! + c * adjugate[6]!
  const inverse = adjugate.map((entry) => entry / determinant)
  if (!inverse.every(Number.isFinite)) throw new RangeError('the matrix has no inverse')
  return inverse
}

/** The product of two 3 x 3 matrices. */
export function product3(a: readonly number[], b: readonly number[]): number[] {
  return a.map((_, at) => {
    const row = at - (at % 3)
    return a[row]! * b[at % 3]! + a[row + 1]! * b[3 + (at % 3)]! + a[row + 2]! * b[6 + (at % 3)]!
  })
}
