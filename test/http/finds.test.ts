import { afterAll, beforeAll, expect, test } from 'vitest'
import { type OpenDesk, openDesk } from './desk-client.ts'
import { type fakeFinds, madeUpFind } from './fake-finds.ts'

let open: OpenDesk
let finds: ReturnType<typeof fakeFinds>
beforeAll(async () => {
  open = await openDesk()
  finds = open.desk.finds as ReturnType<typeof fakeFinds>
})
afterAll(() => open.close())

test('the finds are listed, and one is told', async () => {
  expect((await open.ask('/api/finds')).json()).toEqual({
    columns: ['id', 'number'],
    rows: [[4, 'NST-2026-004']],
  })
  expect((await open.ask('/api/finds/4')).json()).toEqual(madeUpFind)
  expect((await open.ask('/api/finds/7')).status).toBe(404)
  expect((await open.ask('/api/finds/4/history')).json()).toEqual([])
  expect((await open.ask('/api/finds/named?text=NST-2026-004')).json()).toEqual(madeUpFind)
  expect((await open.ask('/api/finds/named')).status).toBe(400)
})

test('a find is added with as little as nothing, and a year 0 or an unknown word is not understood', async () => {
  const added = await open.send('POST', '/api/finds', { record: {}, place: { text: 'TF 584 475' } })
  expect([added.status, added.json()]).toEqual([201, madeUpFind])
  for (const record of [
    { fromYear: 0 },
    { weightG: -1 },
    { weightG: '3 oz' },
    { count: 0 },
    { certainty: 'sure' },
    { damage: ['fire'] },
    { materials: [{ text: '', term: null }] },
    { findspot: 'x' },
    { colour: 'green' },
  ])
    expect([record, (await open.send('POST', '/api/finds', { record })).status]).toEqual([record, 400])
})

test('one find and many are changed', async () => {
  const patch = { record: { weightG: 4, materials: [{ text: 'lead', term: null }], damage: ['plough'] } }
  expect((await open.send('PATCH', '/api/finds/4', { ...patch, place: null })).status).toBe(200)
  expect(finds.asked.at(-1)).toEqual(['change', { ...patch, place: null }])
  expect((await open.send('PATCH', '/api/finds', { ids: [4, 5], ...patch })).status).toBe(204)
  expect((await open.send('PATCH', '/api/finds', { ids: [], ...patch })).status).toBe(400)
  expect((await open.send('POST', '/api/finds/remove', { ids: [4] })).status).toBe(204)
})

test('history is added to', async () => {
  const event = { ids: [4], kind: 'cleaned', happenedOn: '2026-11-25', who: 'Ann', note: null }
  expect((await open.send('POST', '/api/finds/events', event)).status).toBe(204)
  expect(finds.asked.at(-1)).toEqual(['addEvent', event])
  for (const wrong of [{ kind: 'lost' }, { happenedOn: 'May' }, { ids: ['x'] }])
    expect((await open.send('POST', '/api/finds/events', { ...event, ...wrong })).status).toBe(400)
})

test('a photograph comes as bytes with its name and role, and goes out as JPEG', async () => {
  const target = '/api/finds/4/photographs?name=../a.jpg&role=reverse'
  const headers = { ...open.own, origin: open.origin, 'x-lynchet': '1' }
  const reply = await open.ask(target, { method: 'POST', headers, body: Buffer.alloc(12) })
  expect([reply.status, reply.json()]).toMatchObject([200, { alreadyThere: false }])
  expect(finds.asked.at(-1)).toEqual(['addPhotograph', 'a.jpg', 'reverse', 12])
  const picture = await open.ask('/api/photographs/9/picture?size=small')
  expect([picture.headers['content-type'], picture.text]).toEqual(['image/jpeg', 'small'])
  const scaleLine = [0, 0, 10, 0, 50]
  expect((await open.send('PATCH', '/api/photographs/9', { scaleLine, note: 'x' })).json()).toMatchObject({
    note: 'x',
  })
  expect((await open.send('PATCH', '/api/photographs/9', { scaleLine: [0, 0, 10, 0, 0] })).status).toBe(400)
  expect((await open.send('DELETE', '/api/photographs/9', undefined)).status).toBe(204)
})

test('numbers, joins and words', async () => {
  expect((await open.ask('/api/finds/numbers')).json()).toMatchObject({ next: 'NST-2026-005' })
  const note = { number: 'NST-2026-003', state: 'void', note: 'lost' }
  expect((await open.send('POST', '/api/finds/numbers', note)).status).toBe(204)
  expect((await open.ask('/api/joins')).json()).toEqual([])
  expect((await open.send('PUT', '/api/joins', { first: 1, second: 2, state: 'accepted' })).status).toBe(204)
  expect((await open.send('PUT', '/api/joins', { first: 1, second: 2, state: 'glued' })).status).toBe(400)
  const how = { spreadM: 20, farthestM: 60 }
  expect((await open.send('POST', '/api/joins/propose', how)).json()).toEqual({ added: 2, fragments: 5 })
  expect((await open.send('POST', '/api/joins/propose', { ...how, spreadM: 0 })).status).toBe(400)
  expect((await open.ask('/api/vocabularies')).json()).toMatchObject({ materials: { source: 'made up' } })
})

test('labels come as a PDF to save', async () => {
  const reply = await open.send('POST', '/api/finds/labels', { ids: [4], sheet: 'roll-62x29' })
  expect([reply.status, reply.headers['content-type']]).toEqual([200, 'application/pdf'])
  expect(reply.headers['content-disposition']).toContain('nst-labels.pdf')
  expect(finds.asked.at(-1)).toEqual([
    'labels',
    {
      ids: [4],
      blank: 0,
      again: [],
      sheet: 'roll-62x29',
      code: 'data-matrix',
      skip: 0,
      shiftX: 0,
      shiftY: 0,
    },
  ])
  expect((await open.send('POST', '/api/finds/labels', { blank: 9999, sheet: 'x' })).status).toBe(400)
})

test('a table is looked at, and taken with the columns that are wanted', async () => {
  const post = (query: string) =>
    open.ask(`/api/finds/table?name=a.csv${query}`, { method: 'POST', body: Buffer.alloc(9) })
  expect((await post('')).json()).toMatchObject({ adds: 1, written: false })
  const columns = [{ heading: 'No', column: 'number', unit: null }]
  const taken = await post(`&write=yes&empty=clear&columns=${encodeURIComponent(JSON.stringify(columns))}`)
  expect(taken.json()).toMatchObject({ written: true })
  expect(finds.asked.at(-1)).toEqual(['table', 'a.csv', 9, { write: true, emptyCells: 'clear', columns }])
  expect((await post('&columns=x')).status).toBe(400)
  expect((await post('&write=maybe')).status).toBe(400)
})

test('the catalogue is saved as a file', async () => {
  const reply = await open.send('POST', '/api/finds/export', { as: 'csv', public: true })
  expect([reply.status, reply.text]).toEqual([200, 'made up'])
  expect(finds.asked.at(-1)).toEqual(['export', { as: 'csv', public: true }])
  expect((await open.send('POST', '/api/finds/export', { as: 'doc' })).status).toBe(400)
})

test('the own list of words is told, taken in as a file, and taken away', async () => {
  expect((await open.ask('/api/finds/words')).json()).toBeNull()
  const sent = await open.ask('/api/finds/words?name=w.csv', {
    method: 'POST',
    headers: { 'x-lynchet': '1', origin: open.origin, 'content-type': 'text/csv' },
    body: 'term\nbuckle\n',
  })
  expect([sent.status, sent.json()]).toEqual([200, { terms: 2, faults: [] }])
  expect(
    (
      await open.ask('/api/finds/words', {
        method: 'DELETE',
        headers: { 'x-lynchet': '1', origin: open.origin },
      })
    ).status,
  ).toBe(204)
  expect(finds.asked.slice(-2)).toEqual([['takeObjectList', 'w.csv', 12], ['dropObjectList']])
})

test('finds are joined together and parted, two at the least', async () => {
  expect((await open.send('POST', '/api/joins/together', { ids: [4, 5] })).status).toBe(204)
  expect((await open.send('POST', '/api/joins/part', { ids: [4, 5] })).status).toBe(204)
  expect((await open.send('POST', '/api/joins/together', { ids: [4] })).status).toBe(400)
  expect(finds.asked.slice(-2)).toEqual([
    ['joinTogether', [4, 5]],
    ['part', [4, 5]],
  ])
})
