import { readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { gzipSync, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { SurveyError } from '#core/faults'
import { readFile } from './index.ts'

/** Good files of other projects, small ones of each kind. */
const fixtures = new URL('../../../fixtures/formats/', import.meta.url)
const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(new URL(path, fixtures)))
const csv = new TextEncoder().encode(
  `Find no;Object;Weight (g);Depth (cm);Grid ref;Date;"Notes"\n${'NST-1;"Buckle; small";12,5;15;TG 514 131;31/05/2024;"by the ""gate""\nwet"\n'.repeat(20)}`,
)
const fields = zipSync(
  Object.fromEntries(
    ['shp', 'shx', 'dbf', 'prj', 'cpg'].map((part) => [
      `f.${part}`,
      bytesOf(`shapefile-gdal/fields.${part}`),
    ]),
  ),
)
const good: readonly [string, Uint8Array][] = [
  ['all-fields.gpx', bytesOf('gpx/gpxgo/gpx1.1_with_all_fields.gpx')],
  ['run.gpx', bytesOf('gpx/togeojson/Friday-Evening-Run.gpx')],
  ['latin.gpx', bytesOf('gpx/gpxgo/iso8859-1encoded.gpx')],
  ['packed.gpx.gz', bytesOf('gpx/gpxgo/graphhopper.gpx.gz')],
  ['track.kml', bytesOf('kml/togeojson/gxmultitrack.kml')],
  ['polygon.kml', bytesOf('kml/togeojson/styles.kml')],
  ['world.kmz', bytesOf('kml/ogc/small_world.kmz')],
  ['collection.geojson', bytesOf('geojson/good-featurecollection-extensions.geojson')],
  ['finds.csv', csv],
  ['finds.csv.gz', gzipSync(csv)],
  ['fields.zip', fields],
]

type Damage = readonly [kind: 'cut' | 'flip' | 'drop' | 'double' | 'zero', at: number, size: number]

const damages = fc.array(
  fc.tuple(
    fc.constantFrom('cut', 'flip', 'flip', 'flip', 'drop', 'double', 'zero'),
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.integer({ min: 1, max: 64 }),
  ),
  { minLength: 1, maxLength: 8 },
) as fc.Arbitrary<Damage[]>

function damaged(bytes: Uint8Array, done: readonly Damage[]): Uint8Array {
  return done.reduce((old, [kind, place, size]) => {
    const at = Math.floor(place * old.length)
    if (kind === 'cut') return old.slice(0, at)
    if (kind === 'drop') return Uint8Array.from([...old.subarray(0, at), ...old.subarray(at + size)])
    if (kind === 'double') {
      return Uint8Array.from([...old.subarray(0, at + size), ...old.subarray(at)])
    }
    const next = old.slice()
    if (kind === 'zero') next.fill(0, at, at + size)
    else if (at < next.length) next[at] = next[at]! ^ (1 << (size % 8))
    return next
  }, bytes)
}

test.each(good)('%s, damaged at random, is read in part or refused in words', (name, bytes) => {
  fc.assert(
    fc.property(damages, (done) => {
      try {
        const content = readFile(name, damaged(bytes, done))
        for (const { text, line } of content.faults) {
          expect(text.length).toBeLessThan(500)
          expect(line === null || line >= 1).toBe(true)
        }
        for (const { xy, segmentStart, time } of content.tracks) {
          expect(xy.every(Number.isFinite)).toBe(true)
          expect(
            [...segmentStart].every(
              (start, i, all) => start < xy.length / 2 && (i === 0 || start > all[i - 1]!),
            ),
          ).toBe(true)
          expect(time === null || time.length === xy.length / 2).toBe(true)
        }
        for (const { x, y } of content.findspots) expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true)
      } catch (cause) {
        if (!(cause instanceof SurveyError)) throw cause
        expect(cause.message.startsWith(name)).toBe(true)
      }
    }),
    { numRuns: Number(process.env.FUZZ_RUNS ?? 150) },
  )
})

test('any bytes under any name are read in part or refused in words', () => {
  const start = fc.constantFrom(
    '',
    '<gpx',
    '<kml><',
    '{"type":',
    'lat,lon\n',
    'PK\u0003\u0004',
    '\u001f\u008b\u0008',
  )
  fc.assert(
    fc.property(
      start,
      fc.uint8Array({ maxLength: 300 }),
      fc.constantFrom('a.gpx', 'b.csv', 'c'),
      (first, rest, name) => {
        try {
          readFile(name, Buffer.concat([Buffer.from(first, 'latin1'), rest]))
        } catch (cause) {
          if (!(cause instanceof SurveyError)) throw cause
        }
      },
    ),
    { numRuns: Number(process.env.FUZZ_RUNS ?? 500) },
  )
})
