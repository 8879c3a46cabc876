import type { FaultCode } from '#core/faults'
import type { RecordSpans } from './record-spans.ts'

/** The geometry of one record. Heights and measures are NaN where none is given; null where the kind has none. */
export interface Shape {
  readonly kind: 'points' | 'lines' | 'polygons'
  readonly xy: Float64Array
  readonly z: Float64Array | null
  readonly m: Float64Array | null
  /** First vertex of each part, ascending; one part for points. */
  readonly parts: Uint32Array
}

export interface ShapeProblem {
  readonly code: FaultCode
  readonly text: string
}

const kinds = ['points', 'lines', 'polygons', 'points'] as const
/** Anything below this stands for no value (Technical Description, page 2). */
const noValue = -1e38

/** The geometry of a record of a .shp, or why there is none that can be kept. */
export function shapeAt(shp: Uint8Array, { from, length }: RecordSpans, i: number): Shape | ShapeProblem {
  if (length[i] === 0) return { code: 'broken-file', text: 'it cannot be made out in the file' }
  const shape = recordShape(new DataView(shp.buffer, shp.byteOffset + from[i]!, length[i]!))
  return shape ?? { code: 'unsupported-feature', text: 'it has no position' }
}

/**
 * Reads the content of one record: null for a null shape, a problem for one that does not fit its length or is no geometry
 * that a survey knows. Kinds 1, 3, 5, 8 with z (11 to 18) and measures (21 to 28); page numbers are those of the ESRI
 * Shapefile Technical Description (July 1998). Cost: one pass over the vertices.
 */
function recordShape(view: DataView): Shape | ShapeProblem | null {
  const type = view.getInt32(0, true)
  if (type === 0) return null
  if (type === 31) return { code: 'unsupported-feature', text: 'it is a surface (MultiPatch)' }
  const [tens, ones] = [Math.floor(type / 10), type % 10]
  const place = [1, 3, 5, 8].indexOf(ones)
  if (place < 0 || tens > 2)
    return { code: 'broken-file', text: `it is of the kind ${type}, which there is not` }
  if (ones === 1) return onePoint(view, tens)
  return manyPoints(view, tens, kinds[place]!, ones === 8)
}

/** Pages 6, 12 and 15. */
function onePoint(view: DataView, tens: number): Shape | ShapeProblem {
  const heightAt = tens === 1 ? 20 : -1
  if (view.byteLength < (tens === 1 ? 28 : 20)) return tooShort(view, tens === 1 ? 28 : 20)
  const measureAt = tens === 0 ? -1 : tens === 1 ? 28 : 20
  const one = (at: number): Float64Array | null =>
    at < 0 || at + 8 > view.byteLength ? null : Float64Array.of(value(view, at))
  return checked({
    kind: 'points',
    xy: Float64Array.of(view.getFloat64(4, true), view.getFloat64(12, true)),
    z: one(heightAt),
    m: one(measureAt),
    parts: Uint32Array.of(0),
  })
}

/** Pages 7 to 11, 13 to 14, 16 to 19: a box, counts, parts (not for points), vertices, then heights and measures with their ranges. */
function manyPoints(
  view: DataView,
  tens: number,
  kind: Shape['kind'],
  bare: boolean,
): Shape | ShapeProblem | null {
  const countAt = bare ? 36 : 40
  if (view.byteLength < countAt + 4) return tooShort(view, countAt + 4)
  const partCount = bare ? 0 : view.getInt32(36, true)
  const count = view.getInt32(countAt, true)
  if (partCount < 0 || count < 0) return { code: 'broken-file', text: 'it counts less than no vertices' }
  const from = countAt + 4 + 4 * partCount
  const heightsAt = from + 16 * count
  const needed = heightsAt + (tens === 1 ? 16 + 8 * count : 0)
  if (view.byteLength < needed) return tooShort(view, needed)
  if (count === 0) return null
  const parts = bare ? Uint32Array.of(0) : new Uint32Array(partCount)
  if (!bare) for (let i = 0; i < partCount; i++) parts[i] = view.getInt32(countAt + 4 + 4 * i, true)
  const ascending = parts.every((part, i) => part < count && (i === 0 ? part === 0 : part > parts[i - 1]!))
  if (parts.length === 0 || !ascending)
    return { code: 'broken-file', text: 'its parts do not fit its vertices' }
  const measuresAt = tens === 1 ? needed + 16 : heightsAt + 16
  const measured = tens > 0 && view.byteLength >= measuresAt + 8 * count
  return checked({
    kind,
    xy: pairs(view, from, count),
    z: tens === 1 ? series(view, heightsAt + 16, count) : null,
    m: measured ? series(view, measuresAt, count) : null,
    parts,
  })
}

function checked(shape: Shape): Shape | ShapeProblem {
  return shape.xy.every(Number.isFinite)
    ? shape
    : { code: 'coordinate-out-of-range', text: 'one of its coordinates is no number' }
}

function tooShort(view: DataView, needed: number): ShapeProblem {
  return { code: 'broken-file', text: `it is ${view.byteLength} bytes long and needs ${needed}` }
}

function value(view: DataView, at: number): number {
  const number = view.getFloat64(at, true)
  return number > noValue && Number.isFinite(number) ? number : Number.NaN
}

function pairs(view: DataView, from: number, count: number): Float64Array {
  const xy = new Float64Array(2 * count)
  for (let i = 0; i < xy.length; i++) xy[i] = view.getFloat64(from + 8 * i, true)
  return xy
}

/** Null where no vertex has a value. */
function series(view: DataView, from: number, count: number): Float64Array | null {
  const values = new Float64Array(count)
  for (let i = 0; i < count; i++) values[i] = value(view, from + 8 * i)
  return values.every(Number.isNaN) ? null : values
}
