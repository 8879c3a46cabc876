import { existsSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { LayerCache } from './layer-cache.ts'

let around = ''
beforeAll(() => {
  around = mkdtempSync(path.join(tmpdir(), 'cache-'))
})
afterAll(() => rmSync(around, { recursive: true }))

const fresh = (limit?: number): LayerCache => new LayerCache(mkdtempSync(path.join(around, 's-')), limit)

/** Makes a product of so many bytes, last used so many days ago. */
async function product(
  cache: LayerCache,
  source: string,
  name: string,
  bytes: number,
  daysAgo = 0,
): Promise<void> {
  await cache.make(source, name, async (folder) => {
    writeFileSync(path.join(folder, `${name}.0.tif`), Buffer.alloc(bytes))
    writeFileSync(path.join(folder, 'scratch'), 'gone afterwards')
    return { name }
  })
  const then = new Date(Date.now() - daysAgo * 86_400_000)
  utimesSync(path.join(cache.folderOf(source), `${name}.json`), then, then)
}

test('what was made is found, with its files and nothing else', async () => {
  const cache = fresh()
  await product(cache, 'a', 'whole', 10)
  expect(cache.find('a', 'whole')).toEqual({ name: 'whole' })
  expect(readdirSync(cache.folderOf('a')).toSorted()).toEqual(['whole.0.tif', 'whole.json'])
  expect(cache.find('a', 'overview')).toBeNull()
  expect(cache.find('b', 'whole')).toBeNull()
  expect(readdirSync(cache.folder).filter((name) => name.startsWith('unfinished'))).toEqual([])
})

test('a product that lost a file, or all of the cache, is not there, and no harm is done', async () => {
  const cache = fresh()
  await product(cache, 'a', 'whole', 10)
  rmSync(path.join(cache.folderOf('a'), 'whole.0.tif'))
  expect(cache.find('a', 'whole')).toBeNull()
  rmSync(cache.folder, { recursive: true })
  expect(cache.find('a', 'whole')).toBeNull()
  await product(cache, 'a', 'whole', 10)
  expect(cache.find('a', 'whole')).toEqual({ name: 'whole' })
})

test('the product longest unused goes first, and use counts', async () => {
  const cache = fresh(3500)
  await product(cache, 'a', 'one', 1000, 5)
  await product(cache, 'a', 'two', 1000, 4)
  await product(cache, 'b', 'three', 1000, 3)
  expect(cache.find('a', 'one')).not.toBeNull()
  await product(cache, 'b', 'four', 1000)
  expect(existsSync(path.join(cache.folderOf('a'), 'two.0.tif'))).toBe(false)
  expect([cache.find('a', 'one'), cache.find('b', 'three'), cache.find('b', 'four')]).not.toContain(null)
})

test('a product larger than the limit is kept while it is the newest', async () => {
  const cache = fresh(100)
  await product(cache, 'a', 'large', 1000)
  expect(cache.find('a', 'large')).not.toBeNull()
  await product(cache, 'a', 'next', 10)
  expect([cache.find('a', 'large'), cache.find('a', 'next')]).toEqual([null, { name: 'next' }])
})

test('nothing is left of work that failed', async () => {
  const cache = fresh()
  const failing = cache.make('a', 'whole', async (folder) => {
    writeFileSync(path.join(folder, 'whole.0.tif'), 'half')
    throw new Error('no')
  })
  await expect(failing).rejects.toThrow('no')
  expect(cache.find('a', 'whole')).toBeNull()
  expect(readdirSync(cache.folder)).toEqual(['CACHEDIR.TAG'])
})
