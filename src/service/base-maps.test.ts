import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { BaseMaps } from '#contract'
import { isSurveyError } from '#core/faults'
import { KeptBaseMaps } from './base-maps.ts'

let folder: string
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const maps: BaseMaps = {
  maps: [
    {
      name: 'Aerial',
      kind: 'xyz',
      address: 'https://tiles.example.org/{z}/{x}/{y}.png?key=1',
      layer: null,
      attribution: '© Example',
    },
  ],
  shown: null,
}

test('at first there is none, and no foreign server may be asked', () => {
  const kept = new KeptBaseMaps(folder)
  expect(kept.list()).toEqual({ maps: [], shown: null })
  expect(kept.shownOrigin()).toBeNull()
  expect(readdirSync(folder)).toEqual([])
})

test('a map that is kept but not shown opens nothing; one that is shown opens its own server alone', () => {
  const kept = new KeptBaseMaps(folder)
  kept.keep(maps)
  expect(kept.shownOrigin()).toBeNull()
  kept.keep({ ...maps, shown: 0 })
  expect(kept.shownOrigin()).toBe('https://tiles.example.org')
  expect(new KeptBaseMaps(folder).list()).toEqual({ ...maps, shown: 0 })
  expect(readdirSync(folder)).toEqual(['base-maps.json'])
  if (process.platform !== 'win32') {
    expect(statSync(path.join(folder, 'base-maps.json')).mode & 0o777).toBe(0o600)
  }
})

test.each(['{', '[]', '{"maps":[],"shown":3}'])(
  'a file that reads %j is told of, kept as it is, and opens nothing',
  (text) => {
    const file = path.join(folder, 'base-maps.json')
    writeFileSync(file, text)
    const kept = new KeptBaseMaps(folder)
    expect(kept.shownOrigin()).toBeNull()
    for (const use of [() => kept.list(), () => kept.keep(maps)]) {
      let code = ''
      try {
        use()
      } catch (error) {
        if (isSurveyError(error)) code = error.code
      }
      expect(code).toBe('broken-file')
    }
    expect(readFileSync(file, 'utf8')).toBe(text)
  },
)
