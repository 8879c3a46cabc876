import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { DeskService } from '#service'
import { createApp } from './app.ts'
import { httpStatus } from './http-status.ts'

const page = readFileSync(new URL('../../docs/reference/http.md', import.meta.url), 'utf8')

/** The routes are made, and none is called: so no service is needed. */
async function madeRoutes(): Promise<string[]> {
  const routes: string[] = []
  const app = createApp({
    service: {} as DeskService,
    deskFolder: '/nowhere',
    fieldFolder: undefined,
    guard: { hosts: new Set(), session: null },
    upload: { temporaryFolder: '/nowhere', limitBytes: 1 },
    heartbeatMs: 1,
    complain: () => {},
    running: new Set(),
    onRoute: ({ method, url }) => {
      for (const one of [method].flat()) if (one !== 'HEAD') routes.push(`${one} ${url}`)
    },
  })
  await app.ready()
  await app.close()
  return routes.map((route) => route.replace('(^\\d+)', '')).sort()
}

test('every route has a heading in docs/reference/http.md, and every heading a route', async () => {
  const headings = [...page.matchAll(/^### (.+)$/gm)].map((match) => match[1])
  const routes = await madeRoutes()
  expect(routes.length).toBeGreaterThan(20)
  expect(headings.sort()).toEqual(routes)
})

test('the table of statuses is the one in docs/reference/http.md', () => {
  const rows = [...page.matchAll(/^\| `([\w-]+)` \| (\d+) \|$/gm)].map(([, code, status]) => [
    code,
    Number(status),
  ])
  expect(Object.fromEntries(rows)).toEqual(httpStatus)
})

test('no fault is told as a success or as anything but an error', () => {
  for (const status of Object.values(httpStatus)) expect(status).toBeGreaterThanOrEqual(400)
})
