import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { commandNames } from '#cli'
import { defaultSettings } from '#contract'
import { faultCodes } from '#core/faults'

const page = (name: string): string =>
  readFileSync(new URL(`../../docs/reference/${name}.md`, import.meta.url), 'utf8')
const headings = (text: string, level: string): string[] =>
  [...text.matchAll(new RegExp(`^${level} \`?([a-zA-Z0-9-]+)\`?`, 'gm'))].map(([, name]) => name!)

test('every fault code has a heading in faults.md, and no heading is left over', () => {
  expect(headings(page('faults'), '##').sort()).toEqual(Object.keys(faultCodes).sort())
})

test('every command has a heading in command-line.md, and no heading is left over', () => {
  expect(headings(page('command-line'), '##').sort()).toEqual([...commandNames].sort())
})

test('every setting has a heading in settings.md, and no heading is left over', () => {
  expect(headings(page('settings'), '##').sort()).toEqual(Object.keys(defaultSettings).sort())
})
