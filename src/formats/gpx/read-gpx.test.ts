import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { SurveyError } from '#core/faults'
import type { FileContent } from '#core/record'
import { isoSeconds } from '#formats/time'
import { readGpx } from './index.ts'

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const read = (text: string): FileContent => readGpx(utf8(text), { fileName: 'walk.gpx' })
const inGpx = (inner: string): string => `<gpx version="1.1" creator="x">${inner}</gpx>`
const inTrack = (inner: string): string => inGpx(`<trk><name>North</name>\n<trkseg>${inner}</trkseg></trk>`)
const codes = (content: FileContent): string[] => content.faults.map(({ code }) => code)
const timed = (lat: string, time: string): string =>
  `<trkpt lat="${lat}" lon="0.1"><time>${time}</time></trkpt>\n`

test('a fix keeps all it carries', () => {
  const { tracks } = read(
    inGpx(`<trk><name> North field </name><cmt>dry</cmt><link href="http://a.example"><text>a</text></link>
      <trkseg><trkpt lat="52.5" lon="-0.25"><ele>12.5</ele><time>2024-05-01T10:00:00+01:00</time><fix>3d</fix>
      <sat>9</sat><hdop>1.5</hdop><extensions><x:TrackPointExtension xmlns:x="urn:x"><x:hr unit="bpm">98</x:hr>
      <x:moving/></x:TrackPointExtension></extensions></trkpt><trkpt lat="52.6" lon="-0.25"/></trkseg>
      <trkseg><trkpt lat="52.7" lon="-0.25"/><extensions><colour>red</colour></extensions></trkseg></trk>`),
  )
  const track = tracks[0]!
  expect([...track.xy]).toEqual([-0.25, 52.5, -0.25, 52.6, -0.25, 52.7])
  expect([...track.segmentStart]).toEqual([0, 2])
  expect(track.time).toEqual(Float64Array.of(isoSeconds('2024-05-01T09:00:00Z'), Number.NaN, Number.NaN))
  expect(track.elevation).toEqual(Float64Array.of(12.5, Number.NaN, Number.NaN))
  expect(track.hdop).toEqual(Float64Array.of(1.5, Number.NaN, Number.NaN))
  expect(track.name).toBe('North field')
  expect(track.attributes).toEqual({
    cmt: 'dry',
    'link@href': 'http://a.example',
    'link/text': 'a',
    'trkseg/extensions/colour': 'red',
  })
  expect(track.extras).toEqual([
    { name: 'fix', at: [0], text: ['3d'] },
    { name: 'sat', at: [0], text: ['9'] },
    { name: 'extensions/TrackPointExtension/hr@unit', at: [0], text: ['bpm'] },
    { name: 'extensions/TrackPointExtension/hr', at: [0], text: ['98'] },
    { name: 'extensions/TrackPointExtension/moving', at: [0], text: [''] },
  ])
})

test('a waypoint is a findspot, a route is planned and not walked', () => {
  const { tracks, findspots } = read(
    inGpx(`<wpt lat="52" lon="1"><ele>3</ele><time>2024-05-01T10:00:00Z</time><name>F1</name><cmt>c</cmt>
      <desc>a <![CDATA[<b>buckle</b>]]></desc><sym>Flag</sym></wpt>
      <rte><name>Lane 1</name><rtept lat="52" lon="1"/><rtept lat="52.1" lon="1"/></rte>`),
  )
  expect(findspots).toEqual([
    {
      epsg: 4326,
      name: 'F1',
      x: 1,
      y: 52,
      accuracyM: null,
      elevation: 3,
      time: isoSeconds('2024-05-01T10:00:00Z'),
      note: 'a <b>buckle</b>',
      find: null,
      attributes: { cmt: 'c', sym: 'Flag' },
    },
  ])
  expect(tracks.map(({ walked, name, xy }) => [walked, name, xy.length])).toEqual([[false, 'Lane 1', 4]])
})

test('prefixed GPX is GPX; a foreign element of the same name is not', () => {
  const { tracks } = read(
    `<g:gpx xmlns:g="http://www.topografix.com/GPX/1/1" xmlns:o="urn:o"><g:trk><o:name>no</o:name><g:name>yes</g:name>
    <g:trkseg><g:trkpt lat="1" lon="2"><o:time>soon</o:time><g:ele>5</g:ele></g:trkpt></g:trkseg></g:trk></g:gpx>`,
  )
  expect(tracks[0]!.name).toBe('yes')
  expect(tracks[0]!.attributes).toEqual({ name: 'no' })
  expect(tracks[0]!.extras).toEqual([{ name: 'time', at: [0], text: ['soon'] }])
  expect(tracks[0]!.elevation).toEqual(Float64Array.of(5))
})

test('a time without a zone is UTC, said once', () => {
  const content = read(inTrack(timed('1', '2024-05-01T10:00:00') + timed('2', '2024-05-01T10:00:01')))
  expect([...content.tracks[0]!.time!]).toEqual([1714557600, 1714557601])
  expect(content.faults).toEqual([
    { line: 2, code: 'assumed', text: 'Times name no zone; they were taken as UTC.' },
  ])
})

test('bad positions are left out, each with its line', () => {
  const content = read(
    inTrack(`<trkpt lat="52" lon="0"/>\n<trkpt lat="x" lon="0"/>\n<trkpt lon="0"><ele>9</ele><sat>4</sat></trkpt>
<trkpt lat="120" lon="45"/>\n<trkpt lat="52" lon="181"/>\n<trkpt lat="" lon=""/>\n<trkpt lat="53" lon="0"/>`),
  )
  expect([...content.tracks[0]!.xy]).toEqual([0, 52, 0, 53])
  expect(content.tracks[0]!.extras).toEqual([])
  expect(content.faults.slice(0, 5).map(({ line, code }) => [line, code])).toEqual([
    [3, 'bad-value'],
    [4, 'bad-value'],
    [5, 'coordinates-swapped'],
    [6, 'coordinate-out-of-range'],
    [7, 'bad-value'],
  ])
})

test('a value that cannot be read costs the value, not the fix', () => {
  const content = read(
    inTrack('<trkpt lat="52" lon="0"><ele>high</ele><time>noon</time><hdop>?</hdop></trkpt>'),
  )
  expect([...content.tracks[0]!.xy]).toEqual([0, 52])
  expect(codes(content).filter((code) => code === 'bad-value')).toHaveLength(3)
})

test('a thousand faults make a short list that says how many more', () => {
  const content = read(inTrack('<trkpt lat="x" lon="y"/>\n'.repeat(1000)))
  expect(content.faults.length).toBeLessThan(210)
  expect(content.faults[200]).toEqual({
    line: null,
    code: 'bad-value',
    text: '800 more of the same kind are not listed.',
  })
})

test.each([
  ['nothing at all', '', ['empty-file']],
  ['no element', '  \n', ['broken-file']],
  ['an empty document', inGpx(''), ['empty-file']],
  ['a track without a fix', inGpx('<trk/>'), ['too-few-fixes']],
  ['one fix', inTrack(timed('1', '2024-05-01T10:00:00Z')), ['too-few-fixes']],
  ['all at one spot', inTrack(timed('1', '2024-05-01T10:00:00Z').repeat(5)), ['too-few-fixes']],
  ['no times', inTrack('<trkpt lat="1" lon="2"/><trkpt lat="1" lon="3"/>'), ['no-times']],
  [
    'times backwards',
    inTrack(timed('1', '2024-05-01T10:00:00Z') + timed('2', '2024-05-01T09:00:00Z')),
    ['times-backwards'],
  ],
  ['another kind of XML', '<kml><Placemark/></kml>', ['unknown-kind']],
])('%s is one fault', (_, text, expected) => expect(codes(read(text))).toEqual(expected))

test('times backwards keep the order of the file', () => {
  const { tracks, faults } = read(
    inTrack(['10:00:02', '10:00:00', '10:00:01'].map((t, i) => timed(`${i}`, `2024-05-01T${t}Z`)).join('')),
  )
  expect([...tracks[0]!.xy]).toEqual([0.1, 0, 0.1, 1, 0.1, 2])
  expect(faults[0]!.text).toBe(
    'Times run backwards once, first after fix 1 of track “North”; the order of the file was kept.',
  )
})

test('a file cut short keeps what stood before the cut', () => {
  const whole = inTrack([1, 2, 3, 4].map((i) => timed(`${i}`, `2024-05-01T10:00:0${i}Z`)).join(''))
  const content = read(whole.slice(0, whole.indexOf('10:00:04')))
  expect([...content.tracks[0]!.xy]).toEqual([0.1, 1, 0.1, 2, 0.1, 3])
  expect(content.tracks[0]!.name).toBe('North')
  expect(content.faults).toEqual([
    {
      line: 5,
      code: 'broken-file',
      text: 'Reading stopped at line 5: the file ends inside <time>. What stood before was kept.',
    },
  ])
})

test('a mended slip does not end the reading', () => {
  const content = read(
    inGpx('<wpt lat="1" lon="2"><name>a&nbsp;b</name></wpt>\n<wpt lat="1" lon="3"/>') + inGpx(''),
  )
  expect(content.findspots.map(({ name }) => name)).toEqual(['a&nbsp;b', null])
  expect(codes(content)).toEqual(['bad-value', 'bad-value'])
})

test('entities are refused, nothing is expanded', () => {
  const bomb = `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]>${inGpx('<wpt lat="1" lon="2"><name>&b;</name></wpt>')}`
  expect(() => read(bomb)).toThrow(SurveyError)
  expect(() => read(bomb)).toThrow(/walk\.gpx, line 1: the file declares entities/)
  const outside = `<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/passwd">]>${inGpx('')}`
  expect(() => read(outside)).toThrow(SurveyError)
  expect(codes(read(`<!DOCTYPE gpx SYSTEM "gpx.dtd">${inGpx('<wpt lat="1" lon="2"/>')}`))).toEqual([])
})

test('extreme depth and extreme texts end the reading', () => {
  const first = '<wpt lat="1" lon="2"/>'
  const deep = read(inGpx(first + '<a>'.repeat(100) + '</a>'.repeat(100) + first))
  expect([codes(deep), deep.findspots.length]).toEqual([['unsafe-file'], 1])
  for (const long of [
    `<name>${'x'.repeat(1_100_000)}</name>`,
    `<!--${'x'.repeat(3_000_000)}-->`,
    `<a b="${'x'.repeat(3_000_000)}"/>`,
  ]) {
    const content = read(inGpx(`${first}<wpt lat="1" lon="2">${long}</wpt>`))
    expect([codes(content), content.findspots.length]).toEqual([['unsafe-file'], 1])
  }
})

test('names that mean something to JavaScript are kept like any other', () => {
  const { findspots } = read(
    inGpx('<wpt lat="1" lon="2"><__proto__>x</__proto__><constructor>y</constructor></wpt>'),
  )
  expect(Object.entries(findspots[0]!.attributes)).toEqual([
    ['__proto__', 'x'],
    ['constructor', 'y'],
  ])
})

test('pieces of any size give the same content', () => {
  const bytes = utf8(
    inTrack([1, 2, 3].map((i) => timed(`${i}`, `2024-05-01T10:00:0${i}Z`)).join('')).replace(
      'North',
      'Nörd 𝄞 & Co'.replace('&', '&amp;'),
    ),
  )
  const whole = readGpx(bytes, { fileName: 'walk.gpx' })
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 40 }), (size) => {
      const pieces = Array.from({ length: Math.ceil(bytes.length / size) }, (_, i) =>
        bytes.subarray(i * size, (i + 1) * size),
      )
      expect(readGpx(pieces, { fileName: 'walk.gpx' })).toEqual(whole)
    }),
  )
})

test('an ampersand that stands alone costs nothing, and is said', () => {
  const fixes = timed('1', '2024-05-01T10:00:00Z') + timed('2', '2024-05-01T10:00:01Z')
  const content = read(
    inGpx(`\n<wpt lat="1" lon="2"><name>Fish & chips &amp; peas</name><desc><![CDATA[a & b]]></desc><!-- & --></wpt>
    <trk><name>A&B</name><trkseg>${fixes}</trkseg></trk>`),
  )
  expect(content.findspots[0]).toMatchObject({ name: 'Fish & chips & peas', note: 'a & b' })
  expect(content.tracks[0]!.name).toBe('A&B')
  expect(content.tracks[0]!.time).toHaveLength(2)
  expect(content.faults.map(({ line, code }) => [line, code])).toEqual([[2, 'bad-value']])
})

test('a file that is broken elsewhere as well is read up to there', () => {
  const content = read(
    inGpx('<wpt lat="1" lon="2"><name>a & b</name></wpt>\n<wpt lat="1" lon="3"/>\n<wpt lat="1" lon='),
  )
  expect(content.findspots).toHaveLength(2)
  expect(content.faults.map(({ line, code }) => [line, code])).toEqual([
    [1, 'bad-value'],
    [3, 'broken-file'],
  ])
})
