import fc from 'fast-check'
import { expect, test } from 'vitest'
import { rowJson, rowOfJson } from './row-json.ts'

const anyCell = fc.oneof(
  fc.string({ unit: 'binary' }),
  fc.double({ noNaN: true }),
  fc.integer(),
  fc.constant(null),
  fc.uint8Array(),
  fc.bigInt({ min: 2n ** 53n, max: 2n ** 63n - 1n }),
)

test('a row of any cells comes back as it was', () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string(), anyCell), (row) => {
      expect({ ...rowOfJson(rowJson(row, 'keep')) }).toEqual({ ...row })
    }),
  )
})

test('bytes of a Buffer are bytes too', () => {
  expect(rowJson({ a: Buffer.from('abc') }, 'keep')).toBe('{"a":{"$base64":"YWJj"}}')
})

test('bytes that were only counted cannot be brought back', () => {
  const json = rowJson({ a: new Uint8Array(3) }, 'count')
  expect(json).toBe('{"a":{"$bytes":3}}')
  expect(() => rowOfJson(json)).toThrow(RangeError)
})
