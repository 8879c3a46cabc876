import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { FaultList } from '#formats/fault-list'
import { bytesFrom, chunksOf, decodedText, headOf, wholeText } from './index.ts'

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const joined = (pieces: Iterable<string>): string => [...pieces].join('')
const never = (): never => expect.fail('no bad bytes were expected')

/** The same bytes in pieces of odd sizes. */
function* pieces(bytes: Uint8Array, sizes: readonly number[]): Generator<Uint8Array> {
  let at = 0
  for (let i = 0; at < bytes.length; i++) {
    const size = sizes[i % sizes.length]!
    yield bytes.subarray(at, at + size)
    at += size
  }
}

const anySizes = fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 5 })

test('UTF-8 comes back whole however it is cut', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 200 }), anySizes, (text, sizes) => {
      const clean = text.replace(/^\uFEFF/, '').replaceAll('\0', '')
      expect(joined(decodedText(pieces(utf8(`Find: ${clean}`), sizes), never))).toBe(`Find: ${clean}`)
    }),
  )
})

test.each(['utf16le', 'utf16be'])('%s, with and without a mark, is found by its bytes', (encoding) => {
  for (const mark of ['\uFEFF', '']) {
    const bytes = Buffer.from(`${mark}<?xml version="1.0"?><gpx>Wörth 𝄞</gpx>`, 'utf16le')
    if (encoding === 'utf16be') bytes.swap16()
    expect(joined(decodedText(bytes, never))).toBe('<?xml version="1.0"?><gpx>Wörth 𝄞</gpx>')
  }
})

test('an XML declaration is believed, except one that its own bytes disprove', () => {
  const latin = Buffer.from('<?xml version="1.0" encoding="ISO-8859-1"?><n>caf\xe9 \x96</n>', 'latin1')
  expect(joined(decodedText(latin, never))).toContain('<n>café –</n>')
  const lies = utf8('<?xml version="1.0" encoding="UTF-16"?><n>café</n>')
  expect(joined(decodedText(lies, never))).toContain('<n>café</n>')
})

test('bytes that nobody called UTF-8 and that are not are read as Windows-1252, and the line is told', () => {
  const faults = new FaultList()
  const text = wholeText(Buffer.from('name\nring\ncaf\xe9\n', 'latin1'), 'finds.csv', faults)
  expect(text).toBe('name\nring\ncafé\n')
  expect(faults.list()).toEqual([
    {
      line: 3,
      code: 'bad-value',
      text: 'From here on the text is not UTF-8; it was read as Windows-1252.',
    },
  ])
})

test('bytes that were called UTF-8 and are not show as U+FFFD', () => {
  const faults = new FaultList()
  const bytes = Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), Buffer.from('caf\xe9 x', 'latin1')])
  expect(wholeText(bytes, 'finds.csv', faults)).toBe('caf\uFFFD x')
  expect(faults.list().map(({ code, line }) => [code, line])).toEqual([['bad-value', 1]])
})

test('an encoding nobody knows is said, and the file read as UTF-8', () => {
  const said: string[] = []
  const bytes = utf8('<?xml version="1.0" encoding="klingon-8"?><n>é</n>')
  expect(joined(decodedText(bytes, ({ sentence }) => said.push(sentence)))).toContain('<n>é</n>')
  expect(said.join()).toContain('"klingon-8"')
})

test('looking at the head loses nothing', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 60 }), anySizes, fc.nat(70), (bytes, sizes, atLeast) => {
      const { head, source } = headOf(pieces(bytes, sizes), atLeast)
      expect([...head]).toEqual([...bytes.subarray(0, atLeast)])
      expect([...bytesFrom(source)]).toEqual([...bytes])
    }),
  )
})

test('progress counts every byte', () => {
  const told: number[] = []
  const pieces = [...chunksOf(new Uint8Array(600_000), (done) => told.push(done))]
  expect(pieces.length).toBe(3)
  expect(told.at(-1)).toBe(600_000)
})
