import { afterAll, beforeAll, expect, test } from 'vitest'
import { type OpenDesk, openDesk } from './desk-client.ts'
import { type fakeVisits, madeUpMoment, madeUpVisit } from './fake-visits.ts'

let open: OpenDesk
beforeAll(async () => {
  open = await openDesk()
})
afterAll(() => open.close())

test('visits are listed, and changed by what the body names and nothing else', async () => {
  expect((await open.ask('/api/visits')).json()).toEqual([madeUpVisit])
  const changed = await open.send('PATCH', '/api/visits/4', { person: 'Ann', coilM: 0.28 })
  expect([changed.status, changed.json()]).toEqual([200, { ...madeUpVisit, person: 'Ann', coilM: 0.28 }])
  for (const wrong of [{ swathM: 0 }, { day: 'Monday' }, { ownChance: 1.1 }, { id: 3 }, []]) {
    const refused = await open.send('PATCH', '/api/visits/4', wrong)
    expect(refused.status).toBe(400)
    expect(refused.json()).toMatchObject({ error: { code: 'setting-out-of-range' } })
  }
  expect((await open.send('PATCH', '/api/visits/9', { person: 'Ann' })).status).toBe(404)
  expect((await open.send('PUT', '/api/tracks/7/visit', { visit: null })).status).toBe(200)
  expect((await open.send('PUT', '/api/tracks/7/walked', { walked: false })).status).toBe(204)
  expect((await open.send('PUT', '/api/tracks/8/walked', { walked: false })).status).toBe(404)
  expect((await open.send('PUT', '/api/tracks/7/walked', {})).status).toBe(400)
})

test('the walk is little-endian floats; an account that cannot be had says why', async () => {
  const { bytes, headers } = await open.ask('/api/visits/4/walk')
  expect(headers['content-type']).toBe('application/octet-stream')
  expect([bytes.length, bytes.readDoubleLE(0), bytes.readDoubleLE(32)]).toEqual([48, 4, Number.NaN])
  expect((await open.ask('/api/visits/4/account')).status).toBe(409)
})

test('chances are a job; there are none before, and their tiles are kept for ever', async () => {
  const wish = { only: [4], gapChance: 0.5, simulations: null, seed: 7 }
  const started = await open.send('POST', '/api/visits/chances', wish)
  expect(started.status).toBe(202)
  expect((open.desk.visits as ReturnType<typeof fakeVisits>).wishes).toEqual([wish])
  expect((await open.send('POST', '/api/visits/chances', { ...wish, gapChance: 0 })).status).toBe(400)
  expect((await open.ask('/api/visits/chances')).json()).toBeNull()
  expect((await open.ask('/api/visits/chances?of=4,7')).json()).toBeNull()
  expect((await open.ask('/api/visits/chances?of=four')).status).toBe(400)
  expect((await open.ask('/api/visits/chances/kept')).json()).toEqual([])
  const tile = await open.ask('/api/visits/chances/kept/0/0/0.png')
  expect([tile.headers['content-type'], tile.headers['cache-control']]).toEqual([
    'image/png',
    'private, max-age=31536000, immutable',
  ])
  expect((await open.ask('/api/visits/chances/gone/0/0/0.png')).status).toBe(404)
  const area = await open.send('POST', '/api/visits/chances/area', { name: 'Missed', leastM2: 4 })
  expect(area.status).toBe(409)
})

test('lanes are set against visits as the body asks, and what was missed is kept', async () => {
  const wish = { plan: 3, only: [4], toleranceM: null }
  expect((await open.send('POST', '/api/visits/lanes', wish)).json()).toMatchObject({ plan: 3, lanes: [] })
  expect((await open.send('POST', '/api/visits/lanes', { ...wish, toleranceM: 0 })).status).toBe(400)
  expect((await open.send('POST', '/api/visits/lanes/area', { wish, name: 'Missed' })).status).toBe(409)
  const kept = await open.send('POST', '/api/visits/lanes/plan', { wish, name: 'Missed' })
  expect([kept.status, kept.json()]).toEqual([201, { id: 5, name: 'Missed' }])
  expect((await open.send('POST', '/api/visits/lanes/plan', { wish, name: '' })).status).toBe(400)
})

test('photographs say when they were taken, and are matched as the body asks', async () => {
  const looked = await open.send('POST', '/api/photographs/look?name=walk/a.jpg', 'bytes')
  expect([looked.status, looked.json()]).toEqual([200, madeUpMoment])
  const wish = { photographs: [madeUpMoment], zoneS: null, clockS: 30, withinM: 15, withinS: 600 }
  const matched = await open.send('POST', '/api/photographs/match', wish)
  expect(matched.json()).toMatchObject({ photographs: [{ state: 'none' }], notes: ['30 s'] })
  for (const wrong of [
    { ...wish, withinM: 0 },
    { ...wish, zoneS: 90_000 },
    { ...wish, photographs: [{ ...madeUpMoment, takenLocal: 'noon' }] },
  ])
    expect((await open.send('POST', '/api/photographs/match', wrong)).status).toBe(400)
})
