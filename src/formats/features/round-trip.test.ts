import { readdirSync, readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { ringArea } from '#core/geometry'
import type { FileContent, RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { readCsv, writeCsv } from '#formats/csv'
import { readGeoJson, writeGeoJson } from '#formats/geojson'
import { readGpx, writeGpx } from '#formats/gpx'
import { readKml, writeKml } from '#formats/kml'
import { isoSeconds } from '#formats/time'

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const options = { fileName: 'x' }
const none = { areas: [], tracks: [], findspots: [] }

/** Text as people write it, with what formats stumble over; XML keeps no control characters, and readers trim. */
const anyText = fc
  .string({
    unit: fc.constantFrom(...'abcÄé𝄞<>&"\'=+-@,;|\n\t #]/:1'),
    minLength: 1,
    maxLength: 12,
  })
  .map((text) => text.trim())
  .filter((text) => text !== '')
const maybe = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { nil: null })
const ofSteps = (most: number, step: number): fc.Arbitrary<number> =>
  fc.integer({ min: -most / step, max: most / step }).map((n) => n * step)
const degrees = (most: number): fc.Arbitrary<number> =>
  fc.integer({ min: -most * 1e8, max: most * 1e8 }).map((n) => n / 1e8)
const lon = degrees(180)
const lat = degrees(90)
const height = ofSteps(1000, 0.125)
const seconds = fc.integer({ min: -1e12, max: 4e12 }).map((ms) => isoSeconds(new Date(ms).toISOString()))
const attributes = fc.dictionary(fc.stringMatching(/^colour([ =&"<][a-z]{1,4})?$/), anyText, { maxKeys: 3 })

const anyFind = fc.record({
  number: maybe(anyText),
  object: anyText,
  material: maybe(anyText),
  period: maybe(anyText),
  count: fc.integer({ min: 1, max: 1000 }),
  weightG: maybe(fc.double({ min: 0, max: 1e6, noNaN: true }).map((g) => Math.round(g * 1e4) / 1e4)),
  depthM: maybe(fc.integer({ min: 0, max: 2000 }).map((mm) => mm / 1000)),
})

const anyFindspot: fc.Arbitrary<RecordedFindspot> = fc.record({
  epsg: fc.constant(4326),
  name: maybe(anyText),
  x: lon,
  y: lat,
  accuracyM: maybe(fc.integer({ min: 0, max: 10_000 }).map((n) => n / 8)),
  elevation: maybe(height),
  time: maybe(seconds),
  note: maybe(anyText),
  find: maybe(anyFind),
  attributes,
})

/** A column with at least one number in it, or none. */
const column = (fixes: number, value: fc.Arbitrary<number>): fc.Arbitrary<Float64Array | null> =>
  maybe(
    fc
      .array(fc.option(value, { nil: Number.NaN }), { minLength: fixes, maxLength: fixes })
      .filter((values) => values.some((v) => !Number.isNaN(v)))
      .map((values) => Float64Array.from(values)),
  )

/** Walked tracks with segments of two fixes or more. */
const anyTrack: fc.Arbitrary<RecordedTrack> = fc
  .array(fc.integer({ min: 2, max: 4 }), { minLength: 1, maxLength: 3 })
  .chain((lengths) => {
    const fixes = lengths.reduce((a, b) => a + b)
    const starts = lengths.map((_, i) => lengths.slice(0, i).reduce((a, b) => a + b, 0))
    return fc.record({
      epsg: fc.constant(4326),
      name: maybe(anyText),
      walked: fc.constant(true),
      xy: fc
        .array(fc.tuple(lon, lat), { minLength: fixes, maxLength: fixes })
        .map((pairs) => Float64Array.from(pairs.flat())),
      segmentStart: fc.constant(Uint32Array.from(starts)),
      time: column(fixes, seconds),
      elevation: column(fixes, height),
      hdop: column(
        fixes,
        fc.integer({ min: 0, max: 800 }).map((n) => n / 8),
      ),
      extras: fc.constant([
        { name: 'sat', at: [0], text: ['9'] },
        { name: 'extensions/TrackPointExtension/hr', at: [0, 1], text: ['98', '99 & more'] },
      ]),
      attributes,
    })
  })

/** Star-shaped rings about a centre: closed, of some ground, wound either way. */
const anyRing = (size: number): fc.Arbitrary<(x: number, y: number) => Float64Array> =>
  fc
    .tuple(fc.array(fc.integer({ min: 5, max: 10 }), { minLength: 3, maxLength: 8 }), fc.boolean())
    .map(([radii, turn]) => (x, y) => {
      const corners = radii.map((r, i) => {
        const angle = ((turn ? 1 : -1) * 2 * Math.PI * i) / radii.length
        const at = (centre: number, part: number): number =>
          Math.round((centre + size * r * part) * 1e8) / 1e8 + 0
        return [at(x, Math.cos(angle)), at(y, Math.sin(angle))]
      })
      return Float64Array.from([...corners, corners[0]!].flat())
    })

const anyArea: fc.Arbitrary<RecordedArea> = fc
  .tuple(
    maybe(anyText),
    fc.array(fc.tuple(degrees(170), degrees(80), anyRing(1e-3), maybe(anyRing(1e-4))), {
      minLength: 1,
      maxLength: 2,
    }),
    attributes,
  )
  .map(([name, parts, attributes]) => ({
    epsg: 4326,
    name,
    polygons: parts.map(([x, y, outer, hole]) => ({
      rings: hole === null ? [outer(x, y)] : [outer(x, y), hole(x, y)],
    })),
    attributes,
  }))

/** Faults that only tell what the values themselves say. */
const about = new Set(['no-times', 'times-backwards', 'too-few-fixes', 'assumed', 'empty-file'])
function sound(content: FileContent): FileContent {
  expect(content.faults.filter(({ code }) => !about.has(code))).toEqual([])
  return content
}

const readers = {
  gpx: (text: string) => sound(readGpx(utf8(text), options)),
  kml: (text: string) => sound(readKml(utf8(text), options)),
  geojson: (text: string) => sound(readGeoJson(utf8(text), options)),
  csv: (text: string) => sound(readCsv(utf8(text), options)),
}
const writers = { gpx: writeGpx, kml: writeKml, geojson: writeGeoJson, csv: writeCsv }
const formats = ['gpx', 'kml', 'geojson', 'csv'] as const

test.each(formats)('findspots come back from %s as they were', (format) => {
  fc.assert(
    fc.property(fc.array(anyFindspot, { minLength: 1, maxLength: 5 }), (findspots) => {
      const back = readers[format](writers[format]({ ...none, findspots }))
      expect(back.findspots).toEqual(findspots)
    }),
  )
})

test.each(formats)('tracks come back from %s, less what the format has no place for', (format) => {
  fc.assert(
    fc.property(fc.array(anyTrack, { minLength: 1, maxLength: 3 }), (tracks) => {
      const back = readers[format](writers[format]({ ...none, tracks }))
      const expected = tracks.map((track) => {
        if (format === 'gpx') return track
        if (format === 'csv') return { ...track, attributes: {} }
        const timed = track.time !== null && !(format === 'kml' && track.time.some(Number.isNaN))
        return { ...track, hdop: null, extras: [], time: timed ? track.time : null }
      })
      expect(back.tracks).toEqual(expected)
      expect(back.areas).toEqual([])
    }),
  )
})

test.each(formats)('areas come back from %s', (format) => {
  fc.assert(
    fc.property(fc.array(anyArea, { minLength: 1, maxLength: 3 }), (areas) => {
      const back = readers[format](writers[format]({ ...none, areas }))
      const wound = (ring: Float64Array, r: number): Float64Array =>
        format !== 'geojson' || ringArea(ring) > 0 === (r === 0)
          ? ring
          : Float64Array.from({ length: ring.length }, (_, i) => ring[ring.length - 2 - i + 2 * (i % 2)]!)
      expect(back.areas).toEqual(
        areas.map((area) => ({
          ...area,
          attributes: format === 'csv' ? {} : area.attributes,
          polygons: area.polygons.map(({ rings }) => ({ rings: rings.map(wound) })),
        })),
      )
      expect(back.tracks).toEqual([])
    }),
  )
})

test.each(['gpx', 'kml', 'geojson'] as const)('a planned line stays planned in %s', (format) => {
  fc.assert(
    fc.property(anyTrack, (track) => {
      const segmentStart = Uint32Array.of(0)
      const planned = { ...track, walked: false, segmentStart, time: null, hdop: null, extras: [] }
      expect(readers[format](writers[format]({ ...none, tracks: [planned] })).tracks).toEqual([planned])
    }),
  )
})

test('a planned line stays planned in csv', () => {
  const line = {
    epsg: 4326,
    name: 'Lane 1',
    xy: Float64Array.of(0, 52, 0, 53),
    segmentStart: Uint32Array.of(0),
  }
  const planned = {
    ...line,
    walked: false,
    time: null,
    elevation: null,
    hdop: null,
    extras: [],
    attributes: {},
  }
  expect(readers.csv(writeCsv({ ...none, tracks: [planned] })).tracks).toEqual([planned])
})

test('several kinds come back together, where the format holds several', () => {
  fc.assert(
    fc.property(anyArea, anyTrack, anyFindspot, (area, track, spot) => {
      const features = { areas: [area], tracks: [track], findspots: [spot] }
      for (const format of ['gpx', 'kml', 'geojson'] as const) {
        const back = readers[format](writers[format](features))
        expect([back.areas.length, back.tracks.length, back.findspots.length]).toEqual([1, 1, 1])
      }
      expect(() => writeCsv(features)).toThrow(RangeError)
    }),
    { numRuns: 30 },
  )
})

test('nothing planar is written', () => {
  const spot = { ...fc.sample(anyFindspot, { numRuns: 1, seed: 1 })[0]!, epsg: 27700 }
  for (const format of formats)
    expect(() => writers[format]({ ...none, findspots: [spot] })).toThrow(RangeError)
})

const gpxFiles = ['gpxgo', 'gpxpy', 'togeojson'].flatMap((folder) => {
  const place = new URL(`../../../fixtures/formats/gpx/${folder}/`, import.meta.url)
  return readdirSync(place)
    .filter((name) => name.endsWith('.gpx'))
    .map((name) => [`${folder}/${name}`, new URL(name, place)] as const)
})

/** All positions of walked tracks and findspots, in order. */
function places({ tracks, findspots }: FileContent): number[] {
  const walked = tracks.filter((track) => track.walked).flatMap(({ xy }) => [...xy])
  return [...walked, ...findspots.flatMap(({ x, y }) => [x, y])]
}

/** What walked tracks and findspots say besides their positions; times to the millisecond, as they are written. */
function said({ tracks, findspots }: FileContent): unknown {
  const sorted = (record: Readonly<Record<string, string>>): unknown => Object.entries(record).sort()
  return {
    tracks: tracks
      .filter(({ walked }) => walked)
      .map((track) => ({
        ...track,
        xy: track.xy.length,
        time: track.time?.map((t) => Math.round(t * 1000)),
        elevation: track.elevation?.map((metres) => metres + 0),
        extras: track.extras.map(({ name, at, text }) => [name, at.join(), text.join()]).sort(),
        attributes: sorted(track.attributes),
      })),
    findspots: findspots.map((spot) => ({
      ...spot,
      x: 0,
      y: 0,
      time: spot.time === null ? null : Math.round(spot.time * 1000),
      attributes: sorted(spot.attributes),
    })),
  }
}

test.each(gpxFiles)('%s says the same when it is written and read again', (name, place) => {
  const content = readGpx(readFileSync(place), { fileName: name })
  const back = readGpx(utf8(writeGpx(content)), { fileName: name })
  expect(said(back)).toEqual(said(content))
  const before = places(content)
  const moved = places(back).map((v, i) => Math.abs(v - before[i]!))
  // Half of the eighth decimal, and a little for the double itself.
  expect(Math.max(0, ...moved)).toBeLessThan(5.001e-9)
})
