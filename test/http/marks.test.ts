import { afterAll, beforeAll, expect, test } from 'vitest'
import * as z from 'zod'
import { markShape, targetShape } from '#contract'
import { type OpenDesk, openDesk } from './desk-client.ts'
import { madeUpMark } from './fake-marks.ts'

let open: OpenDesk
beforeAll(async () => {
  open = await openDesk()
})
afterAll(() => open.close())

const search = {
  kind: 'ring',
  layerId: 3,
  view: { view: 'as-is' },
  minDiameterM: 8,
  maxDiameterM: 40,
  tone: 'either',
  most: 100,
}

test('the marks are listed in the shape of the contract', async () => {
  expect(z.array(markShape).parse((await open.ask('/api/marks')).json())).toEqual([madeUpMark])
})

test('a search is a job that can be cancelled', async () => {
  const { status, json } = await open.send('POST', '/api/marks/search', search)
  const { job } = json() as { job: string }
  expect([status, typeof job]).toEqual([202, 'string'])
  expect((await open.ask('/api/jobs')).json()).toMatchObject([{ id: job, kind: 'marks', state: 'running' }])
  expect((await open.ask(`/api/jobs/${job}`, { method: 'DELETE' })).status).toBe(204)
  expect((await open.send('POST', '/api/marks/search', { ...search, layerId: 9 })).status).toBe(404)
})

test.each([
  { ...search, tone: 'grey' },
  { ...search, minDiameterM: 0 },
  { ...search, maxDiameterM: 501 },
  { ...search, most: 0 },
  { ...search, path: '/etc' },
  { ...search, view: { view: 'sideways' } },
])('a search that is not understood is refused %#', async (wrong) => {
  expect((await open.send('POST', '/api/marks/search', wrong)).status).toBe(400)
})

test('a mark is decided on, moved, and not given what it has not', async () => {
  const change = (edit: unknown) => open.send('PATCH', '/api/marks/5', edit)
  expect((await change({ state: 'rejected', note: 'feeder' })).json()).toMatchObject({
    state: 'rejected',
    note: 'feeder',
  })
  expect((await change({ easting: 560_051, diameterM: 21 })).json()).toMatchObject({ diameterM: 21 })
  for (const wrong of [{ state: 'maybe' }, { score: 1 }, { diameterM: -1 }, { easting: 'x' }, []]) {
    expect((await change(wrong)).status).toBe(400)
  }
  expect((await open.send('PATCH', '/api/marks/9', { state: 'accepted' })).status).toBe(404)
})

test('a mark is drawn by hand: a ring by its middle, a line by its places', async () => {
  const ring = { kind: 'ring', easting: 560_000, northing: 350_000, diameterM: 12, note: 'by eye' }
  const made = await open.send('POST', '/api/marks', ring)
  expect([made.status, made.json()]).toEqual([201, expect.objectContaining({ kind: 'ring', note: 'by eye' })])
  const outline = [
    [560_000, 350_000],
    [560_010, 350_000],
  ]
  expect((await open.send('POST', '/api/marks', { kind: 'line', outline })).status).toBe(201)
  for (const wrong of [
    { kind: 'line', easting: 1, northing: 1, diameterM: 2 },
    { kind: 'ring', outline },
    { kind: 'line', outline: outline.slice(1) },
    { ...ring, diameterM: 0 },
  ]) {
    expect((await open.send('POST', '/api/marks', wrong)).status).toBe(400)
  }
})

test('a chip is a piece of a layer, kept for ever under its stamp and place', async () => {
  const address = '/api/marks/5/chip.png?layer=3'
  const kept = await open.ask(`${address}&view=sky-view&radiusM=10&side=50&v=stamp-1&at=1,2,3`)
  expect(kept.headers['content-type']).toBe('image/png')
  expect(kept.json()).toEqual({ layerId: 3, view: { view: 'sky-view', radiusM: 10 }, sideM: 50 })
  expect(kept.headers['cache-control']).toBe('private, max-age=31536000, immutable')
  const plain = await open.ask(`${address}&v=stamp-1`)
  expect([plain.headers['cache-control'], plain.json()]).toEqual([
    'private, no-cache',
    { layerId: 3, view: null, sideM: null },
  ])
  for (const wrong of [
    '/api/marks/5/chip.png',
    `${address}&side=1`,
    `${address}&side=x`,
    `${address}&path=/etc/passwd`,
    '/api/marks/x/chip.png?layer=3',
  ]) {
    expect((await open.ask(wrong)).status).toBe(400)
  }
  expect((await open.ask('/api/marks/9/chip.png?layer=3')).status).toBe(404)
})

test('targets are made of marks and by hand, renamed and removed', async () => {
  const made = await open.send('POST', '/api/marks/5/target', {})
  expect(targetShape.parse(made.json())).toMatchObject({ id: 1, markId: 5 })
  const typed = { name: ' far corner ', easting: 560_001, northing: 350_001 }
  const added = await open.send('POST', '/api/targets', typed)
  expect([added.status, added.json()]).toEqual([201, expect.objectContaining({ name: 'far corner' })])
  const renamed = await open.send('PATCH', '/api/targets/2', { name: 'near corner' })
  expect(renamed.json()).toMatchObject({ name: 'near corner' })
  for (const wrong of [{ name: '  ' }, { lat: 1 }, []]) {
    expect((await open.send('PATCH', '/api/targets/2', wrong)).status).toBe(400)
  }
  expect((await open.ask('/api/targets/2', { method: 'DELETE' })).status).toBe(204)
  expect(z.array(targetShape).parse((await open.ask('/api/targets')).json())).toHaveLength(1)
  expect((await open.ask('/api/targets/2', { method: 'DELETE' })).status).toBe(404)
})

test('what nobody decided on is taken out at once', async () => {
  await open.send('PATCH', '/api/marks/5', { state: 'candidate' })
  const before = ((await open.ask('/api/marks')).json() as unknown[]).length
  const reply = await open.ask('/api/marks/undecided', { method: 'DELETE' })
  expect(reply.json()).toEqual({ removed: 1 })
  expect((await open.ask('/api/marks')).json()).toHaveLength(before - 1)
})

test('a mark is removed, and then not there', async () => {
  expect((await open.ask('/api/marks/6', { method: 'DELETE' })).status).toBe(204)
  expect((await open.ask('/api/marks/6', { method: 'DELETE' })).status).toBe(404)
})
