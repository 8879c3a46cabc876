import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { attachment, lastPart, safeFileName } from './file-names.ts'

test('a safe name holds no way out of its folder, whatever it was made from', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (name) => {
      const safe = safeFileName(name)
      expect(safe).not.toMatch(/[/\\"*:<>?|\p{Cc}\p{Cs}]/u)
      expect(safe).not.toMatch(/^\.|\.$|^\s|\s$/)
      expect(safe.length).toBeGreaterThan(0)
      expect(safeFileName(safe)).toBe(safe)
    }),
  )
})

test('the header is plain ASCII on one line and carries the whole name', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (name) => {
      const header = attachment(name)
      expect(header).toMatch(/^attachment; filename="[\x20-\x7e]+"; filename\*=UTF-8''[\w!#$&+.^`|~%-]+$/)
      expect(decodeURIComponent(header.split("''")[1] ?? '')).toBe(safeFileName(name))
    }),
  )
})

test.each([
  ['NST-gaps.gpx', 'NST-gaps.gpx'],
  ['../../x.gpx', 'x.gpx'],
  ['C:\\a\\x.gpx', 'x.gpx'],
  ['..', 'lynchet'],
  ['', 'lynchet'],
  ['.bashrc', 'bashrc'],
  ['a".gpx', 'a_.gpx'],
])('safeFileName(%j) is %j', (name, safe) => expect(safeFileName(name)).toBe(safe))

test.each([
  ['a/b/c: d.gpx', 'c: d.gpx'],
  ['Ærø 2.gpx', 'Ærø 2.gpx'],
  ['x/', ''],
])('lastPart(%j) is %j', (name, last) => expect(lastPart(name)).toBe(last))
