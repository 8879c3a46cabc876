import { readdirSync, readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { FaultList } from '#formats/fault-list'
import { readXml } from '#formats/xml'
import { GpxReader } from './gpx-reader.ts'
import { readGpxWith } from './read-gpx.ts'

const options = { fileName: 'walk.gpx' }

/** What stands between two tags, or around them. */
const space = fc.constantFrom('', '', '\n', '  ', '\n\t ', '\r\n', '\r')
const number = fc.oneof(
  fc.integer({ min: -90, max: 90 }).map(String),
  fc.double({ min: -90, max: 90, noNaN: true }).map((v) => v.toFixed(7)),
  fc.constantFrom(
    '-0',
    '+1',
    '1.',
    '.5',
    '1e1',
    '91',
    '181',
    '1,5',
    '',
    'x',
    '1234567890.12345678',
    '00.10',
    ' 2 ',
  ),
)
const time = fc.oneof(
  fc.integer({ min: 0, max: 2e12 }).map((ms) => new Date(ms).toISOString()),
  fc.integer({ min: 0, max: 2e9 }).map((s) => new Date(s * 1000).toISOString().replace('.000', '')),
  fc.constantFrom(
    '2024-02-30T10:00:00Z',
    '2024-05-01T10:00:00',
    '2024-05-01T10:00:00+01:00',
    '2024-05-01T24:00:00Z',
    '2024-05-01T10:00:60Z',
    '2024-05-01T10:00:00.Z',
    '2024-05-01T10:00:00.1234567890123456789Z',
    '2024x05x01T10:00:00Z',
    '2024-05-01',
    'noon',
    '',
  ),
)
const plainOr = (plain: string, ...odd: string[]): fc.Arbitrary<string> =>
  fc.oneof({ weight: 12, arbitrary: fc.constant(plain) }, { weight: 1, arbitrary: fc.constantFrom(...odd) })

const inner = fc
  .tuple(
    plainOr('E', '', 'EE', 'TE', 'x<y/>', '<hdop>1.5</hdop>', '<!-- c -->'),
    plainOr('T', '', 'T<sat>9</sat>', '<extensions><a>1</a></extensions>', '<![CDATA[ ]]>'),
    number,
    time,
    space,
  )
  .map(([first, second, ele, when, gap]) =>
    `${gap}${first}${gap}${second}${gap}`
      .replaceAll('E', `<ele>${ele}</ele>`)
      .replaceAll('T', `<time>${when}</time>`),
  )
const fix = fc
  .tuple(
    number,
    number,
    inner,
    space,
    plainOr('plain', 'turned', 'single', 'more', 'empty', 'spaced', 'comment', 'cdata'),
  )
  .map(([lat, lon, inside, gap, form]) => {
    const plain = `<trkpt lat="${lat}" lon="${lon}">${inside}</trkpt>`
    const forms: Record<string, string> = {
      plain,
      turned: `<trkpt lon="${lon}" lat="${lat}">${inside}</trkpt>`,
      single: `<trkpt lat='${lat}' lon='${lon}'>${inside}</trkpt>`,
      more: `<trkpt lat="${lat}" lon="${lon}" speed="1">${inside}</trkpt>`,
      empty: `<trkpt lat="${lat}" lon="${lon}"/>`,
      spaced: `<trkpt  lat="${lat}" lon="${lon}" >${inside}</trkpt >`,
      comment: `<!-- ${plain.replaceAll('-', '_').replaceAll('_', '-').replaceAll('--', '- ')} -->`,
      cdata: `<![CDATA[${plain}]]>`,
    }
    return gap + forms[form]!
  })
const segment = fc
  .tuple(
    fc.array(fix, { maxLength: 12 }),
    plainOr(
      '',
      '</trkseg><trkseg>',
      '<extensions><trkpt lat="1" lon="2"></trkpt></extensions>',
      '</trk><trk>',
      '&',
      '<',
    ),
  )
  .map(([fixes, between]) => fixes.join('') + between)
const document = fc
  .tuple(
    fc.array(segment, { minLength: 1, maxLength: 4 }),
    plainOr('<gpx>|</gpx>', '<g:gpx>|</g:gpx>', '<gpx>|', '\uFEFF<?xml version="1.0"?>\r\n<gpx>|</gpx>'),
  )
  .map(([segments, around]) => around.replace('|', `<trk><trkseg>${segments.join('')}</trkseg></trk>`))

test('the short cut and the parser read the same, in pieces of any size', () => {
  fc.assert(
    fc.property(document, fc.integer({ min: 1, max: 400 }), (text, size) => {
      const bytes = new TextEncoder().encode(text)
      const pieces = Array.from({ length: Math.ceil(bytes.length / size) }, (_, i) =>
        bytes.subarray(i * size, (i + 1) * size),
      )
      const expected = readGpxWith(bytes, options, false)
      expect(readGpxWith(bytes, options, true)).toEqual(expected)
      expect(readGpxWith(pieces, options, true)).toEqual(readGpxWith(pieces, options, false))
    }),
    { numRuns: Number(process.env.FUZZ_RUNS ?? 1500) },
  )
})

test('the short cut and the parser read the same of every real file', () => {
  for (const folder of ['gpxgo', 'gpxpy', 'togeojson']) {
    const place = new URL(`../../../fixtures/formats/gpx/${folder}/`, import.meta.url)
    for (const name of readdirSync(place).filter((file) => file.endsWith('.gpx'))) {
      const bytes = readFileSync(new URL(name, place))
      expect(readGpxWith(bytes, options, true), name).toEqual(readGpxWith(bytes, options, false))
    }
  }
})

test('plain fixes do not go through the parser, others do', () => {
  const faults = new FaultList()
  const read = (fixes: string, shortCuts: boolean): number => {
    let opened = 0
    const start = (line: () => number): GpxReader => {
      const reader = new GpxReader(line, faults, shortCuts)
      const open = reader.open.bind(reader)
      reader.open = (name, attributes) => {
        opened++
        open(name, attributes)
      }
      return reader
    }
    const text = `<gpx><trk><trkseg>${fixes}</trkseg></trk></gpx>`
    readXml(new TextEncoder().encode(text), 'walk.gpx', faults, { text: 1e6 }, start)
    return opened
  }
  const plain = '<trkpt lat="1" lon="2"><ele>3</ele>\n<time>2024-05-01T10:00:00Z</time></trkpt>\n'
  const odd = '<trkpt lon="2" lat="1"><ele>3</ele></trkpt>\n'
  expect(read(plain.repeat(1000), false)).toBe(3 + 3000)
  // The first fix of all goes to the parser with what stands before it.
  expect(read(plain.repeat(1000), true)).toBe(3 + 3)
  expect(read(plain.repeat(500) + odd + plain.repeat(500), true)).toBe(3 + 3 + 2)
})
