import { readdirSync, readFileSync } from 'node:fs'
import { gunzipSync } from 'node:zlib'
import { parse } from 'csv-parse/sync'
import { Geodesic } from 'geographiclib-geodesic'
import { expect, test } from 'vitest'
import type { FileContent, RecordedTrack } from '#core/record'
import { isoSeconds } from '#formats/time'
import { readGpx } from './index.ts'

/** What ElementTree, PROJ's geod and GDAL say of each file: fixtures/formats/gpx/SOURCE.md. */
const fixtures = new URL('../../../fixtures/formats/gpx/', import.meta.url)
const rows: Record<string, string>[] = parse(readFileSync(new URL('expected.csv', fixtures)), {
  columns: true,
})

/** Segments without a fix: the record of a track has no place for them, for no ground was walked in them. */
const emptySegments: Record<string, number> = {
  'gpxgo/cerknicko-without-times.gpx': 1,
  'gpxgo/gpx1.0_with_all_fields.gpx': 1,
  'gpxgo/gpx1.1_with_all_fields.gpx': 1,
  'gpxgo/korita-zbevnica.gpx': 1,
  'gpxpy/cerknicko-jezero-no-creator.gpx': 1,
  'gpxpy/cerknicko-jezero-with-elevations-zero.gpx': 1,
  'gpxpy/cerknicko-jezero-without-elevations.gpx': 1,
  'gpxpy/cerknicko-jezero.gpx': 1,
  'gpxpy/cerknicko-without-times.gpx': 1,
  'gpxpy/gpx1.0_with_all_fields.gpx': 1,
  'gpxpy/gpx1.1_with_all_fields.gpx': 1,
  'gpxpy/korita-zbevnica.gpx': 1,
  'gpxpy/track-with-empty-segment.gpx': 1,
  'gpxpy/unicode2.gpx': 1,
  'togeojson/empty_trk.gpx': 1,
  'togeojson/garmin_extensions.gpx': 1,
  'togeojson/gdal.gpx': 1,
}

/** Positions that are no numbers ("undefined", "x"): left out and reported, where the peers count the element. */
const unreadable: Record<string, { trkpt: number; wpt: number; rtept: number }> = {
  'togeojson/bad.gpx': { trkpt: 2, wpt: 2, rtept: 1 },
}

/** Elements `<ele/>` with nothing in them: the peers count the element, the record has no height there. */
const emptyHeights: Record<string, number> = { 'togeojson/empty_ele.gpx': 2 }

function read(row: Record<string, string>): FileContent {
  const bytes = readFileSync(new URL(`${row.folder}/${row.file}`, fixtures))
  return readGpx(row.file!.endsWith('.gz') ? gunzipSync(bytes) : bytes, { fileName: row.file! })
}

function sum(tracks: readonly RecordedTrack[], of: (track: RecordedTrack) => number): number {
  return tracks.reduce((total, track) => total + of(track), 0)
}

const known = (values: Float64Array | null): number => values?.filter((v) => !Number.isNaN(v)).length ?? 0

function geodesicLength({ xy, segmentStart }: RecordedTrack): number {
  let metres = 0
  for (let i = 1; i < xy.length / 2; i++) {
    if (segmentStart.includes(i)) continue
    metres += Geodesic.WGS84.Inverse(xy[2 * i - 1]!, xy[2 * i - 2]!, xy[2 * i + 1]!, xy[2 * i]!).s12!
  }
  return metres
}

test('every file of the folders is in the table', () => {
  const files = ['gpxgo', 'gpxpy', 'togeojson'].flatMap((folder) =>
    readdirSync(new URL(`${folder}/`, fixtures))
      .filter((name) => /\.gpx(\.gz)?$/.test(name))
      .map((name) => `${folder}/${name}`),
  )
  expect(rows.map(({ folder, file }) => `${folder}/${file}`).sort()).toEqual(files.sort())
})

test.each(rows.map((row) => [`${row.folder}/${row.file}`, row] as const))('%s agrees', (name, row) => {
  const { tracks, findspots } = read(row)
  const walked = tracks.filter((track) => track.walked)
  const planned = tracks.filter((track) => !track.walked)
  const left = unreadable[name] ?? { trkpt: 0, wpt: 0, rtept: 0 }
  expect(walked).toHaveLength(Number(row.trk))
  expect(planned).toHaveLength(Number(row.rte))
  expect(findspots).toHaveLength(Number(row.wpt) - left.wpt)
  expect(sum(planned, ({ xy }) => xy.length / 2)).toBe(Number(row.rtept) - left.rtept)
  const fixes = sum(walked, ({ xy }) => xy.length / 2)
  expect(fixes).toBe(Number(row.trkpt) - left.trkpt)
  expect(fixes).toBe(Number(row.gdal_trkpt) - left.trkpt)
  const segments = sum(walked, ({ segmentStart }) => segmentStart.length)
  if (left.trkpt === 0) expect(segments).toBe(Number(row.trkseg) - (emptySegments[name] ?? 0))
  expect(sum(walked, ({ time }) => known(time))).toBe(Number(row.trkpt_time) - left.trkpt)
  const heights = sum(walked, ({ elevation }) => known(elevation))
  expect(heights).toBe(Number(row.trkpt_ele) - (emptyHeights[name] ?? 0))
  expect(sum(walked, geodesicLength)).toBeCloseTo(Number(row.length_m), 2)
})

test.each(rows.map((row) => [`${row.folder}/${row.file}`, row] as const))(
  '%s: bounds and times',
  (name, row) => {
    const walked = read(row).tracks.filter((track) => track.walked)
    const lons = walked.flatMap(({ xy }) => [...xy.filter((_, i) => i % 2 === 0)])
    const lats = walked.flatMap(({ xy }) => [...xy.filter((_, i) => i % 2 === 1)])
    if (row.min_lat === '') expect(lats).toEqual([])
    else {
      expect(Math.min(...lats)).toBe(Number(row.min_lat))
      expect(Math.max(...lats)).toBe(Number(row.max_lat))
      expect(Math.min(...lons)).toBe(Number(row.min_lon))
      expect(Math.max(...lons)).toBe(Number(row.max_lon))
    }
    const times = walked.flatMap(({ time }) => [...(time ?? [])]).filter((t) => !Number.isNaN(t))
    if (unreadable[name] !== undefined) return
    if (row.first_time !== '') expect(times[0]).toBe(isoSeconds(row.first_time!))
    if (row.last_time !== '') expect(times.at(-1)).toBe(isoSeconds(row.last_time!))
  },
)
