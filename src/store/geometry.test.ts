import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Polygon } from '#core/geometry'
import {
  decodePoint,
  decodePolygons,
  encodeMultiPolygon,
  encodePoint,
  encodePolygon,
} from './area-geometry.ts'
import { geometryBounds } from './geometry-bounds.ts'
import { decodeTrack, encodeTrack, type TrackFixes } from './track-geometry.ts'

interface GdalCase {
  readonly wkt: string
  readonly by: string
  readonly hex: string
  readonly envelope: [number, number, number, number] | null
}
const gdalCases = JSON.parse(
  readFileSync(new URL('../../fixtures/store/gdal-geometries/expected.json', import.meta.url), 'utf8'),
) as GdalCase[]
const bytes = (hex: string) => Uint8Array.from(Buffer.from(hex.replaceAll(' ', ''), 'hex'))
const hex = (blob: Uint8Array) => Buffer.from(blob).toString('hex')
const ofGdal = (wkt: string) => gdalCases.filter((made) => made.wkt === wkt).map((made) => bytes(made.hex))

// The bytes below were put together by hand from OGC 12-128r17 clause 2.1.3 (header) and OGC 06-103r4 clause 8.2 (body).
describe('bytes put together by hand from the standards', () => {
  const header = '47 50 00 01 e6100000'
  const withEnvelope = (w: string, e: string, s: string, n: string) =>
    `47 50 00 03 e6100000 ${w} ${e} ${s} ${n}`
  const one = '000000000000f03f'
  const two = '0000000000000040'
  const three = '0000000000000840'
  const nan = '000000000000f87f'

  test('a point', () => {
    expect(hex(encodePoint(1, 2))).toBe(hex(bytes(`${header} 01 01000000 ${one} ${two}`)))
  })

  test('a polygon', () => {
    const ring = Float64Array.of(1, 1, 2, 1, 2, 3, 1, 1)
    const body = `01 03000000 01000000 04000000 ${one} ${one} ${two} ${one} ${two} ${three} ${one} ${one}`
    const start = withEnvelope(one, two, one, three)
    expect(hex(encodePolygon({ rings: [ring] }))).toBe(hex(bytes(`${start} ${body}`)))
    expect(hex(encodeMultiPolygon([{ rings: [ring] }]))).toBe(
      hex(bytes(`${start} 01 06000000 01000000 ${body}`)),
    )
  })

  test('a track of two segments, the first with height and time, the second of one fix without', () => {
    const track: TrackFixes = {
      xy: Float64Array.of(1, 2, 2, 2, 3, 3),
      segmentStart: Uint32Array.of(0, 2),
      elevation: Float64Array.of(1, 2, Number.NaN),
      time: Float64Array.of(3, 1, Number.NaN),
    }
    const first = `01 ba0b0000 02000000 ${one} ${two} ${one} ${three} ${two} ${two} ${two} ${one}`
    const lone = `${three} ${three} ${nan} ${nan}`
    const second = `01 ba0b0000 02000000 ${lone} ${lone}`
    const made = encodeTrack(track)
    const start = withEnvelope(one, three, two, three)
    expect(hex(made.blob)).toBe(hex(bytes(`${start} 01 bd0b0000 02000000 ${first} ${second}`)))
    expect(made.single).toEqual([1])
  })
})

describe('geometries of GDAL 3.6.2', () => {
  test.each(gdalCases)('bounds of $wkt ($by)', ({ hex: text, envelope }) => {
    const bounds = geometryBounds(bytes(text))
    if (envelope === null) expect(bounds!.minX <= bounds!.maxX).toBe(false)
    else expect([bounds!.minX, bounds!.minY, bounds!.maxX, bounds!.maxY]).toEqual(envelope)
  })

  test('points of any dimension and byte order', () => {
    for (const wkt of [
      'POINT (0.35 53.01)',
      'POINT Z (0.35 53.01 12.5)',
      'POINT M (0.35 53.01 1700000000)',
    ]) {
      expect(ofGdal(wkt).map(decodePoint)).toEqual(Array(2).fill({ x: 0.35, y: 53.01 }))
    }
    expect(ofGdal('POINT EMPTY').map(decodePoint)).toEqual([null])
  })

  test('lines become tracks, with height and time where they have them', () => {
    const zm =
      'MULTILINESTRING ZM ((0.1 53 1 1700000000,0.2 53.1 2 1700000001),(0.3 53.2 3 1700000002,0.4 53.3 4 1700000003,0.5 53.4 5 1700000004))'
    for (const blob of ofGdal(zm)) {
      const track = decodeTrack(blob, [])!
      expect([...track.xy]).toEqual([0.1, 53, 0.2, 53.1, 0.3, 53.2, 0.4, 53.3, 0.5, 53.4])
      expect([...track.segmentStart]).toEqual([0, 2])
      expect([...track.elevation!]).toEqual([1, 2, 3, 4, 5])
      expect([...track.time!]).toEqual([0, 1, 2, 3, 4].map((i) => 1_700_000_000 + i))
    }
    for (const blob of ofGdal('LINESTRING M (0.1 53 1700000000,0.2 53.1 1700000001.5)')) {
      const track = decodeTrack(blob, [])!
      expect(track.elevation).toBeNull()
      expect([...track.time!]).toEqual([1_700_000_000, 1_700_000_001.5])
    }
    const empty = ofGdal('MULTILINESTRING ZM EMPTY').map((blob) => decodeTrack(blob, [])!.xy.length)
    expect(empty).toEqual([0])
  })

  test('polygons, with holes and with heights left out', () => {
    const holed = ofGdal(
      'POLYGON ((0 53,1 53,1 54,0 54,0 53),(0.25 53.25,0.25 53.5,0.5 53.5,0.5 53.25,0.25 53.25))',
    )
    for (const blob of holed) {
      const [polygon] = decodePolygons(blob)!
      expect(polygon!.rings.map((ring) => [...ring])).toEqual([
        [0, 53, 1, 53, 1, 54, 0, 54, 0, 53],
        [0.25, 53.25, 0.25, 53.5, 0.5, 53.5, 0.5, 53.25, 0.25, 53.25],
      ])
    }
    for (const blob of ofGdal(
      'MULTIPOLYGON Z (((0 53 1,1 53 1,1 54 1,0 53 1)),((2 53 2,3 53 2,3 54 2,2 53 2)))',
    )) {
      expect(decodePolygons(blob)!.map(({ rings }) => [...rings[0]!])).toEqual([
        [0, 53, 1, 53, 1, 54, 0, 53],
        [2, 53, 3, 53, 3, 54, 2, 53],
      ])
    }
  })

  test('our bytes are the bytes of GDAL for the same geometry', () => {
    const multi = {
      xy: Float64Array.of(0.1, 53, 0.2, 53.1, 0.3, 53.2, 0.4, 53.3, 0.5, 53.4),
      segmentStart: Uint32Array.of(0, 2),
    }
    const time = Float64Array.of(0, 1, 2, 3, 4).map((i) => 1_700_000_000 + i)
    const track = encodeTrack({ ...multi, elevation: Float64Array.of(1, 2, 3, 4, 5), time }).blob
    const gdal = gdalCases.find(
      (made) => made.wkt.startsWith('MULTILINESTRING ZM ((') && made.by.includes('Package'),
    )!
    // GDAL writes an envelope with z for such a line; from the body on, all bytes must agree.
    expect(hex(track.subarray(40))).toBe(hex(bytes(gdal.hex).subarray(8 + 48)))
    expect(hex(encodePoint(0.35, 53.01))).toBe(hex(ofGdal('POINT (0.35 53.01)')[0]!))
    expect(hex(encodePoint(Number.NaN, Number.NaN))).toBe(hex(ofGdal('POINT EMPTY')[0]!))
    expect(hex(encodeMultiPolygon([]))).toBe(hex(ofGdal('MULTIPOLYGON EMPTY')[0]!))
  })

  test('what is of another kind is refused, not guessed at', () => {
    const [collection] = ofGdal('GEOMETRYCOLLECTION (POINT (1 2),LINESTRING (3 4,5 6))')
    expect(decodeTrack(collection!, [])).toBeNull()
    expect(decodePolygons(collection!)).toBeNull()
  })
})

const coordinate = fc.double({ min: -180, max: 180, noNaN: true })
const known = fc.oneof(fc.constant(Number.NaN), fc.double({ noNaN: true, noDefaultInfinity: true }))

const anyTrack: fc.Arbitrary<TrackFixes> = fc
  .array(fc.array(fc.tuple(coordinate, coordinate, known, known), { maxLength: 6 }), { maxLength: 5 })
  .map((segments) => {
    const fixes = segments.flat()
    const series = (of: (fix: [number, number, number, number]) => number) => {
      const values = Float64Array.from(fixes, of)
      return values.every(Number.isNaN) ? null : values
    }
    let start = 0
    const starts = segments.map((segment) => {
      start += segment.length
      return start - segment.length
    })
    return {
      xy: Float64Array.from(fixes.flatMap((fix) => fix.slice(0, 2))),
      segmentStart: Uint32Array.from(starts),
      elevation: series((fix) => fix[2]),
      time: series((fix) => fix[3]),
    }
  })

const anyRing = fc
  .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 6 })
  .map((pairs) => Float64Array.from([...pairs, pairs[0]!].flat()))
const anyPolygons: fc.Arbitrary<Polygon[]> = fc.array(
  fc.record({ rings: fc.array(anyRing, { minLength: 1, maxLength: 3 }) }),
  { maxLength: 3 },
)

describe('round trips', () => {
  test('a track comes back bit for bit', () => {
    fc.assert(
      fc.property(anyTrack, (track) => {
        const { blob, single } = encodeTrack(track)
        expect(decodeTrack(blob, single)).toEqual(track)
      }),
    )
  })

  test('polygons come back bit for bit', () => {
    fc.assert(
      fc.property(anyPolygons, (polygons) => {
        expect(decodePolygons(encodeMultiPolygon(polygons))).toEqual(polygons)
      }),
    )
  })

  test('a point comes back bit for bit', () => {
    fc.assert(
      fc.property(coordinate, coordinate, (x, y) => {
        expect(decodePoint(encodePoint(x, y))).toEqual({ x, y })
      }),
    )
  })

  test('broken bytes are refused without an exception', () => {
    const broken = anyTrack.chain((track) => {
      const { blob } = encodeTrack(track)
      return fc.tuple(
        fc.constant(blob),
        fc.nat(blob.length),
        fc.array(fc.tuple(fc.nat(blob.length), fc.nat(255)), { maxLength: 4 }),
      )
    })
    fc.assert(
      fc.property(broken, ([blob, length, changes]) => {
        const cut = blob.slice(0, length)
        for (const [at, byte] of changes) cut[at] = byte
        decodeTrack(cut, [])
        decodePolygons(cut)
        decodePoint(cut)
        const bounds = geometryBounds(cut)
        expect(bounds === null || typeof bounds.minX === 'number').toBe(true)
      }),
      { numRuns: 500 },
    )
  })

  test('a ring that another program left open is closed', () => {
    const open = encodePolygon({ rings: [Float64Array.of(0, 0, 1, 0, 1, 1)] })
    expect([...decodePolygons(open)![0]!.rings[0]!]).toEqual([0, 0, 1, 0, 1, 1, 0, 0])
  })
})
