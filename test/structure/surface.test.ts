import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

/**
 * The names that each noun of core and formats gives out. A change here is a change that others see: take it over into
 * surface.golden.json on purpose, with a line in the changelog where a name went away.
 */
const source = new URL('../../src/', import.meta.url)
const golden = JSON.parse(readFileSync(new URL('surface.golden.json', import.meta.url), 'utf8')) as Record<
  string,
  string[]
>

const nouns = ['core', 'formats'].flatMap((layer) =>
  readdirSync(fileURLToPath(new URL(`${layer}/`, source)), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => `${layer}/${name}`),
)

test('the nouns are those recorded', () => {
  expect(nouns.toSorted()).toEqual(Object.keys(golden).toSorted())
})

test.each(nouns)('%s gives out the names recorded', async (noun) => {
  const surface: object = await import(/* @vite-ignore */ new URL(`${noun}/index.ts`, source).href)
  expect(Object.keys(surface).toSorted()).toEqual(golden[noun])
})
