import { afterAll, beforeAll, expect, test } from 'vitest'
import { eventually, type OpenDesk, openDesk } from './desk-client.ts'
import type { fakeLayers } from './fake-layers.ts'
import { madeUpLayer } from './fake-layers.ts'

let open: OpenDesk
let layers: ReturnType<typeof fakeLayers>
beforeAll(async () => {
  open = await openDesk()
  layers = open.desk.layers as ReturnType<typeof fakeLayers>
})
afterAll(() => open.close())

test('the layers are listed', async () => {
  expect((await open.ask('/api/layers')).json()).toEqual([madeUpLayer])
})

test('a layer is changed by what the body names, and nothing else is taken', async () => {
  const changed = await open.send('PATCH', '/api/layers/3', { name: 'July 2026' })
  expect([changed.status, changed.json()]).toEqual([200, { ...madeUpLayer, name: 'July 2026' }])
  for (const wrong of [
    { name: '' },
    { takenOn: '2026-02-30' },
    { sha256: 'x' },
    { nearInfraredBand: 0 },
    [],
  ]) {
    expect((await open.send('PATCH', '/api/layers/3', wrong)).status).toBe(400)
  }
  expect((await open.send('PATCH', '/api/layers/9', { name: 'x' })).status).toBe(404)
})

test('tie points place it; two are too few to be understood', async () => {
  const points = [0, 1, 2].map((n) => ({ column: n, row: n * n, easting: n, northing: n }))
  const placed = await open.send('POST', '/api/layers/3/placing', { method: 'affine', points })
  expect([placed.status, placed.json()]).toEqual([200, { residualsM: [0, 0, 0], rmsM: null }])
  const few = await open.send('POST', '/api/layers/3/placing', { method: 'affine', points: points.slice(1) })
  expect(few.status).toBe(400)
})

test('its bytes are taken inside', async () => {
  expect((await open.send('POST', '/api/layers/3/inside', {})).json()).toMatchObject({ inside: true })
})

test('a tile is asked for with its view, and may be kept for ever under the present stamp only', async () => {
  const address = '/api/layers/3/tiles/2/1/0.png'
  const kept = await open.ask(`${address}?view=hillshade&azimuth=315.5&v=stamp-1`)
  expect(kept.headers['content-type']).toBe('image/png')
  expect(kept.json()).toEqual([
    { level: 2, column: 1, row: 0 },
    { view: 'hillshade', azimuth: 315.5 },
  ])
  expect(kept.headers['cache-control']).toBe('private, max-age=31536000, immutable')
  const old = await open.ask(`${address}?v=stamp-0`)
  expect([old.headers['cache-control'], old.json()]).toEqual([
    'private, no-cache',
    [{ level: 2, column: 1, row: 0 }, null],
  ])
  const again = await open.ask(`${address}?v=stamp-0`, { headers: { 'if-none-match': old.headers.etag } })
  expect([again.status, again.text]).toEqual([304, ''])
  const picture = await open.ask('/api/layers/3/picture/0/0/0.png')
  expect(picture.json()).toEqual(['picture', { level: 0, column: 0, row: 0 }, null])
})

test.each([
  '/api/layers/3/tiles/31/0/0.png',
  '/api/layers/3/tiles/0/-1/0.png',
  '/api/layers/3/tiles/0/0/0.png?view=sideways',
  '/api/layers/3/tiles/0/0/0.png?azimuth=north',
  '/api/layers/3/tiles/0/0/0.png?path=/etc/passwd',
  '/api/layers/x/tiles/0/0/0.png',
])('%s is not understood', async (target) => {
  expect((await open.ask(target)).status).toBe(400)
})

test('a tile that nobody waits for any more is told so to whoever paints it', async () => {
  layers.hold = true
  const stopper = new AbortController()
  const gone = fetch(`${open.origin}/api/layers/3/tiles/0/0/0.png`, {
    headers: open.own,
    signal: stopper.signal,
  })
  const before = layers.asked.length
  await eventually(() => expect(layers.asked.length).toBe(before + 1))
  expect(layers.asked.at(-1)!.signal?.aborted).toBe(false)
  stopper.abort()
  await expect(gone).rejects.toThrow()
  await eventually(() => expect(layers.asked.at(-1)!.signal?.aborted).toBe(true))
  layers.hold = false
})

test('names of the files given at once go with an upload', async () => {
  await open.ask('/api/import?name=a.pgw&together=a.pgw&together=..%2Fa.png', { method: 'POST', body: 'x' })
  expect(open.desk.imported.at(-1)).toMatchObject({ name: 'a.pgw', together: ['a.pgw', 'a.png'] })
  await open.ask('/api/import?name=a.pgw&together=a.png', { method: 'POST', body: 'x' })
  expect(open.desk.imported.at(-1)!.together).toEqual(['a.png'])
})

test('a layer is removed, and then not there', async () => {
  expect((await open.ask('/api/layers/3', { method: 'DELETE' })).status).toBe(204)
  expect((await open.ask('/api/layers/3', { method: 'DELETE' })).status).toBe(404)
  expect((await open.ask('/api/layers/3/tiles/0/0/0.png')).status).toBe(404)
})
