import { boundsOf } from '#core/geometry'
import type { RecordedTrack } from '#core/record'
import { geometryHeaderBytes, readGeometryHeader, writeGeometryHeader } from './geometry-header.ts'
import { assertLittleEndian, runNumbers, type VertexRun, walkGeometry } from './well-known-binary.ts'

const multiLineStringZM = 3005
const lineStringZM = 3002

/** A track's fixes as they go into the layer. */
export type TrackFixes = Pick<RecordedTrack, 'xy' | 'segmentStart' | 'time' | 'elevation'>

export interface EncodedTrack {
  readonly blob: Uint8Array
  /** Segments of one fix: their vertex is written twice, since a line string of one vertex is not valid to other programs. */
  readonly single: readonly number[]
}

/**
 * MULTILINESTRING ZM in WGS84: z is elevation in metres, m is seconds since 1970-01-01 UTC, NaN where unknown.
 * Cost: two copies of 32 bytes a fix; no object is made for a fix.
 */
export function encodeTrack(track: TrackFixes): EncodedTrack {
  assertLittleEndian()
  const fixes = track.xy.length / 2
  const segments = track.segmentStart.length
  const single: number[] = []
  for (let s = 0; s < segments; s++) if (segmentLength(track, s, fixes) === 1) single.push(s)
  const bounds = boundsOf(track.xy)
  const size = geometryHeaderBytes(bounds) + 9 + segments * 9 + (fixes + single.length) * 32
  const blob = new Uint8Array(size)
  const view = new DataView(blob.buffer)
  const numbers = new Uint8Array(interleaved(track, fixes).buffer)
  let at = writeHead(view, writeGeometryHeader(blob, bounds), multiLineStringZM, segments)
  for (let s = 0; s < segments; s++) {
    const from = track.segmentStart[s]! * 32
    const count = segmentLength(track, s, fixes)
    const vertices = numbers.subarray(from, from + count * 32)
    at = writeHead(view, at, lineStringZM, count === 1 ? 2 : count)
    for (let copy = count === 1 ? 2 : 1; copy > 0; copy--) {
      blob.set(vertices, at)
      at += vertices.length
    }
  }
  return { blob, single }
}

function segmentLength(track: TrackFixes, segment: number, fixes: number): number {
  return (track.segmentStart[segment + 1] ?? fixes) - track.segmentStart[segment]!
}

function writeHead(view: DataView, at: number, code: number, count: number): number {
  view.setUint8(at, 1)
  view.setUint32(at + 1, code, true)
  view.setUint32(at + 5, count, true)
  return at + 9
}

function interleaved(track: TrackFixes, fixes: number): Float64Array {
  const { xy, elevation, time } = track
  const numbers = new Float64Array(fixes * 4)
  for (let i = 0; i < fixes; i++) {
    numbers[i * 4] = xy[i * 2]!
    numbers[i * 4 + 1] = xy[i * 2 + 1]!
    numbers[i * 4 + 2] = elevation === null ? Number.NaN : elevation[i]!
    numbers[i * 4 + 3] = time === null ? Number.NaN : time[i]!
  }
  return numbers
}

/**
 * Fixes of a line or lines of any dimension, little- or big-endian: what `encodeTrack` wrote or another program made of
 * it. `single` are the segments whose one fix was written twice. Series without any known value are null.
 * Null for bytes that are not lines. Cost: about three copies of the fixes.
 */
export function decodeTrack(blob: Uint8Array, single: readonly number[]): TrackFixes | null {
  const header = readGeometryHeader(blob)
  if (header === null) return null
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength)
  const runs: VertexRun[] = []
  let lines = true
  const end = walkGeometry(
    view,
    header.bodyAt,
    (run) => runs.push(run),
    (head) => {
      lines &&= head.kind === 2 || head.kind === 5
    },
  )
  if (end < 0 || !lines) return null
  const once = new Set(single)
  const counts = runs.map((run, s) => (once.has(s) && twice(view, run) ? 1 : run.count))
  return fixesOf(view, runs, counts)
}

/** Two vertices, alike bit for bit. */
function twice(view: DataView, run: VertexRun): boolean {
  const step = run.head.stride * 8
  if (run.count !== 2) return false
  for (let i = 0; i < step; i++) {
    if (view.getUint8(run.at + i) !== view.getUint8(run.at + step + i)) return false
  }
  return true
}

function fixesOf(view: DataView, runs: readonly VertexRun[], counts: readonly number[]): TrackFixes {
  const fixes = counts.reduce((sum, count) => sum + count, 0)
  const xy = new Float64Array(fixes * 2)
  const elevation = new Float64Array(fixes).fill(Number.NaN)
  const time = new Float64Array(fixes).fill(Number.NaN)
  const segmentStart = new Uint32Array(runs.length)
  let fix = 0
  for (const [s, run] of runs.entries()) {
    const { stride, hasZ, hasM } = run.head
    const numbers = runNumbers(view, run)
    segmentStart[s] = fix
    for (let i = 0; i < counts[s]!; i++, fix++) {
      const at = i * stride
      xy[fix * 2] = numbers[at]!
      xy[fix * 2 + 1] = numbers[at + 1]!
      if (hasZ) elevation[fix] = numbers[at + 2]!
      if (hasM) time[fix] = numbers[at + stride - 1]!
    }
  }
  return { xy, segmentStart, elevation: knownOrNull(elevation), time: knownOrNull(time) }
}

/** The series itself, or null where every value is NaN. */
function knownOrNull(series: Float64Array): Float64Array | null {
  return series.every(Number.isNaN) ? null : series
}
