import { afterAll, beforeAll, expect, test } from 'vitest'
import * as z from 'zod'
import { bearingFoundShape, permissionShape, planPreviewShape, planShape } from '#contract'
import { type OpenDesk, openDesk } from './desk-client.ts'
import { madeUpPermission } from './fake-land.ts'

let open: OpenDesk
beforeAll(async () => {
  open = await openDesk()
})
afterAll(() => open.close())

const code = (answer: { json: () => unknown }): string =>
  (answer.json() as { error: { code: string } }).error.code

test('permissions are listed, added and changed in the shape of the contract', async () => {
  const list = z.array(permissionShape)
  expect(list.parse((await open.ask('/api/permissions')).json())).toEqual([madeUpPermission])
  const made = await open.send('POST', '/api/permissions', { name: 'Ninestile', startsOn: '2026-09-01' })
  expect([made.status, permissionShape.parse(made.json()).name]).toEqual([201, 'Ninestile'])
  const changed = await open.send('PATCH', '/api/permissions/5', { endsOn: '2027-02-28' })
  expect(permissionShape.parse(changed.json()).endsOn).toBe('2027-02-28')
  expect(code(await open.send('PATCH', '/api/permissions/7', {}))).toBe('not-found')
})

test.each([
  { name: '' },
  { name: 'x', startsOn: 'soon' },
  { name: 'x', endsOn: '2026-02-30' },
  { name: 'x', path: '/etc' },
])('a permission that is none is refused: %j', async (body) => {
  const refused = await open.send('POST', '/api/permissions', body)
  expect([refused.status, code(refused)]).toEqual([400, 'bad-request'])
})

test('an agreement comes as bytes under its last name, and goes out again', async () => {
  const put = await open.ask('/api/permissions/5/agreement?name=..%2F..%2Fleave.pdf&inside=false', {
    method: 'PUT',
    body: 'made up',
  })
  expect(permissionShape.parse(put.json()).agreement).toMatchObject({ name: 'leave.pdf', inside: false })
  const got = await open.ask('/api/permissions/5/agreement')
  expect([got.text, got.headers['content-disposition']]).toEqual([
    'made up',
    expect.stringContaining('leave.pdf'),
  ])
})

test('constraints come as bytes with the metres to keep clear', async () => {
  const ask = (query: string) =>
    open.ask(`/api/constraints?name=barrows.geojson${query}`, { method: 'POST', body: '{}' })
  expect((await ask('&bufferM=20&kind=monument')).json()).toMatchObject({ added: 20 })
  expect((await ask('&bufferM=-1')).status).toBe(400)
})

test('plans: a preview, the kept ones, and a file for a handheld', async () => {
  const wishes = { areaId: 1, spacingM: 2 }
  const preview = await open.send('POST', '/api/plans/preview', wishes)
  expect(planPreviewShape.parse(preview.json()).lanes).toHaveLength(1)
  const asked = { areaId: 1, layerId: 1, by: 'plough' }
  const read = await open.send('POST', '/api/plans/bearing', asked)
  expect(bearingFoundShape.parse(read.json()).bearing).toBe(75)
  expect((await open.send('POST', '/api/plans/bearing', { ...asked, by: 'chance' })).status).toBe(400)
  expect((await open.send('POST', '/api/plans/bearing', { ...asked, layerId: 9 })).status).toBe(404)
  expect(z.array(planShape).parse((await open.ask('/api/plans')).json())).toHaveLength(1)
  const kept = await open.send('POST', '/api/plans', { name: 'Tuesday', wishes })
  expect([kept.status, planShape.parse(kept.json()).name]).toEqual([201, 'Tuesday'])
  expect((await open.ask('/api/plans/2/handheld.gpx?names=8&ascii=true')).text).toBe('8 true')
  expect((await open.ask('/api/plans/2/pack.zip')).headers['content-type']).toBe('application/zip')
  expect((await open.ask('/api/plans/2/sheet.pdf')).headers['content-type']).toBe('application/pdf')
  expect((await open.ask('/api/plans/2/pack.zip?layers=1,2&sidePx=512&mostMb=3')).status).toBe(200)
  expect((await open.ask('/api/plans/2/pack.zip?layers=1,x')).status).toBe(400)
  expect((await open.ask('/api/plans/2/pack.zip?sidePx=3')).status).toBe(400)
  expect((await open.ask('/api/plans/3/pack.zip')).status).toBe(404)
  expect((await open.ask('/api/light?day=2026-06-21')).json()).toMatchObject({ day: '2026-06-21' })
})

test.each([{ areaId: 1, spacingM: 0 }, { areaId: 1, spacingM: 2, bearing: 'north' }, { spacingM: 2 }])(
  'wishes that are none are refused: %j',
  async (body) => {
    expect((await open.send('POST', '/api/plans/preview', body)).status).toBe(400)
  },
)
