import { expect, test } from 'vitest'
import { writeGpx } from '#formats/gpx'
import { gpxBreaches } from './gpx-standard.ts'

const head = '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1" xmlns:own="urn:own">'

test('a plain file keeps to the standard', () => {
  expect(gpxBreaches(`${head}<wpt lat="1" lon="2"><ele>3</ele><name>a</name></wpt></gpx>`)).toEqual([])
})

test.each([
  ['<trk/><wpt lat="1" lon="2"/>', 'wpt stands too late in gpx'],
  ['<wpt lat="91" lon="2"/>', 'wpt has no latitude'],
  ['<wpt lat="1" lon="180"/>', 'wpt has no longitude'],
  ['<wpt lat="1" lon="2"><name>a</name><ele>3</ele></wpt>', 'ele stands too late in wpt'],
  ['<wpt lat="1" lon="2"><ele>high</ele></wpt>', 'ele holds "high"'],
  ['<rte><rtept lat="1" lon="2"/><name>a</name></rte>', 'name stands too late in rte'],
  ['<rte><name>a</name><name>b</name></rte>', 'rte has name twice'],
  ['<trk><trkpt lat="1" lon="2"/></trk>', 'trkpt does not belong in trk'],
  ['<rte><extensions><name>a</name></extensions></rte>', 'an extension is of no other namespace'],
  ['<rte>text</rte>', 'rte holds text'],
])('%s: %s', (inner, breach) => {
  expect(gpxBreaches(`${head}${inner}</gpx>`)).toEqual([breach])
})

test('all that is written keeps to it: areas, walked tracks, planned lines both ways, findspots', () => {
  const xy = Float64Array.of(0.1, 52, 0.2, 52.1, 0.1, 52.2, 0.1, 52)
  const track = {
    epsg: 4326,
    name: 'Lane & <1>',
    walked: true,
    xy,
    segmentStart: Uint32Array.of(0, 2),
    time: Float64Array.of(0, 1, Number.NaN, 3),
    elevation: Float64Array.of(1e-7, 2, 3, 4),
    hdop: Float64Array.of(1, 1, 1, 1),
    extras: [
      { name: 'sat', at: [0], text: ['7'] },
      { name: 'extensions/own/hr', at: [1], text: ['90'] },
    ],
    attributes: { cmt: 'a', number: '3', type: 'b', colour: 'red' },
  }
  const planned = { ...track, walked: false, time: null, elevation: null, hdop: null, extras: [] }
  const spot = {
    epsg: 4326,
    name: null,
    x: 0.1,
    y: 52,
    accuracyM: 3,
    elevation: 4,
    time: 5,
    note: 'by the gate',
    find: {
      number: 'NST-1',
      object: 'buckle',
      material: null,
      period: null,
      count: 2,
      weightG: 1.5,
      depthM: 0.1,
    },
    attributes: { sym: 'Flag', colour: 'red' },
  }
  const text = writeGpx(
    {
      areas: [{ epsg: 4326, name: 'Field', polygons: [{ rings: [xy] }], attributes: { crop: 'wheat' } }],
      tracks: [track, planned],
      findspots: [spot],
    },
    { title: 'All', time: 0, plannedTracks: [planned] },
  )
  expect(gpxBreaches(text)).toEqual([])
  expect(text).toContain('<lynchet:planned>yes</lynchet:planned>')
})
