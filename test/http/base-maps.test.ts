import { afterAll, beforeAll, expect, test } from 'vitest'
import type { BaseMaps } from '#contract'
import { type OpenDesk, openDesk } from './desk-client.ts'

let open: OpenDesk
beforeAll(async () => {
  open = await openDesk()
})
afterAll(() => open.close())

const maps: BaseMaps['maps'] = [
  {
    name: 'Aerial',
    kind: 'xyz',
    address: 'https://tiles.example.org/{z}/{x}/{y}.png',
    layer: null,
    attribution: '© Example',
  },
]

async function policy(): Promise<Record<string, string>> {
  const { headers } = await open.ask('/api/survey')
  const parts = String(headers['content-security-policy']).split('; ')
  return Object.fromEntries(parts.map((part) => [part.split(' ')[0], part.split(' ').slice(1).join(' ')]))
}
const keep = (next: unknown) => open.send('PUT', '/api/base-maps', next)

const closed = { 'img-src': "'self' data: blob:", 'connect-src': "'self'" }

test('with no base map, or one that is not shown, the page may ask no foreign server', async () => {
  expect((await open.ask('/api/base-maps')).json()).toEqual({ maps: [], shown: null })
  expect(await policy()).toMatchObject(closed)
  expect(JSON.stringify(await policy())).not.toMatch(/https?:/)
  expect((await keep({ maps, shown: null })).status).toBe(200)
  expect(await policy()).toMatchObject(closed)
})

test('one that is shown opens its own server for pictures and descriptions, and nothing else', async () => {
  const before = await policy()
  expect((await keep({ maps, shown: 0 })).json()).toEqual({ maps, shown: 0 })
  const after = await policy()
  const origin = 'https://tiles.example.org'
  expect(after).toEqual({
    ...before,
    'img-src': `${closed['img-src']} ${origin}`,
    'connect-src': `${closed['connect-src']} ${origin}`,
  })
  await keep({ maps, shown: null })
  expect(await policy()).toEqual(before)
})

test.each([
  [{ maps: [{ ...maps[0], address: 'https://*/{z}/{x}/{y}' }], shown: 0 }],
  [{ maps: [{ ...maps[0], address: "https://a;script-src 'unsafe-inline'/{z}/{x}/{y}" }], shown: 0 }],
  [{ maps: [{ ...maps[0], attribution: '' }], shown: null }],
  [{ maps, shown: 1 }],
  [{ maps, shown: 0, more: true }],
])('%j is refused in a sentence, and nothing changes', async (next) => {
  const answer = await keep(next)
  expect(answer.status).toBe(400)
  expect(answer.json()).toMatchObject({ error: { code: 'setting-out-of-range' } })
  expect(await policy()).toMatchObject(closed)
})

test('the shift grid is sent as bytes and may be kept', async () => {
  const answer = await open.ask('/api/shift-grid')
  expect([...answer.bytes]).toEqual([1, 2, 3])
  expect(answer.headers['content-type']).toBe('application/octet-stream')
  expect(answer.headers['cache-control']).toContain('immutable')
})
