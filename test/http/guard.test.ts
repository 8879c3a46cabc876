import { networkInterfaces } from 'node:os'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startServer } from '#server'
import { ask, type OpenDesk, openDesk } from './desk-client.ts'
import { fakeDesk } from './fake-desk.ts'

let open: OpenDesk
beforeAll(async () => {
  open = await openDesk()
})
afterAll(() => open.close())

const code = (answer: { json: () => unknown }): string =>
  (answer.json() as { error: { code: string } }).error.code

describe('where a request comes from', () => {
  test.each([
    'evil.example',
    'evil.example:80',
    '127.0.0.1',
    'localhost.evil.example',
    '127.0.0.1.evil.example',
    '[::1]',
    'localhost',
  ])('Host "%s" is refused, cookie or not', async (host) => {
    const answer = await open.ask('/api/survey', { headers: { host } })
    expect(answer.status).toBe(421)
    expect(code(answer)).toBe('wrong-host')
  })

  test('a rebound name with the right port is refused', async () => {
    const answer = await open.ask('/api/survey', { headers: { host: `rebound.example:${open.port}` } })
    expect(answer.status).toBe(421)
  })

  test('localhost with the port is answered', async () => {
    const host = `localhost:${open.port}`
    const answer = await open.ask('/api/survey', { headers: { host, origin: `http://${host}` } })
    expect(answer.status).toBe(200)
  })

  test.each(['http://evil.example', 'null', 'https://127.0.0.1', 'http://127.0.0.1:1', 'http://127.0.0.1'])(
    'Origin %s is refused, for reading too',
    async (origin) => {
      for (const method of ['GET', 'POST']) {
        const answer = await open.ask('/api/survey', { method, headers: { origin } })
        expect(answer.status).toBe(403)
        expect(code(answer)).toBe('foreign-page')
      }
    },
  )

  test.each(['cross-site', 'same-site', 'nonsense'])(
    'Sec-Fetch-Site %s is refused for a picture',
    async (site) => {
      const headers = { 'sec-fetch-site': site, 'sec-fetch-mode': 'no-cors', 'sec-fetch-dest': 'image' }
      const answer = await open.ask('/api/cover/cover-1/0/0/0.png', { headers })
      expect(answer.status).toBe(403)
    },
  )

  test('a link on another page may lead to the desk, and to no part of the API, and no frame may hold it', async () => {
    const link = {
      'sec-fetch-site': 'cross-site',
      'sec-fetch-mode': 'navigate',
      'sec-fetch-dest': 'document',
    }
    // 503: let through to the page, which has not been built in this test.
    expect((await open.ask('/', { headers: link })).status).toBe(503)
    expect((await open.ask('/api/export/gaps?as=gpx', { headers: link })).status).toBe(403)
    const frame = { ...link, 'sec-fetch-dest': 'iframe' }
    expect((await open.ask('/', { headers: frame })).status).toBe(403)
  })

  test.each(['POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'])(
    '%s without x-lynchet, or without Origin, is refused',
    async (method) => {
      const { cookie, origin } = open.own
      for (const headers of [
        { cookie, origin },
        { cookie, 'x-lynchet': '1' },
        { cookie, origin, 'x-lynchet': '2' },
      ]) {
        const answer = await ask(open.port, '/api/undo', { method, headers })
        expect(answer.status).toBe(403)
        expect(code(answer)).toBe('missing-header')
      }
    },
  )

  test('no answer grants another origin anything', async () => {
    const headers = { origin: 'http://evil.example', 'access-control-request-method': 'POST' }
    const answer = await open.ask('/api/undo', { method: 'OPTIONS', headers })
    expect(answer.status).toBe(403)
    expect(Object.keys(answer.headers).filter((name) => name.startsWith('access-control'))).toEqual([])
  })
})

describe('the session', () => {
  test.each(['/api/survey', '/', '/looks', '/assets/x.js', '/nothing', '/api/events'])(
    'without the cookie %s is not given',
    async (path) => {
      const answer = await ask(open.port, path)
      expect(answer.status).toBe(401)
      expect(code(answer)).toBe('no-session')
    },
  )

  test('a wrong cookie, and that of another port, are refused', async () => {
    const [name, value] = open.own.cookie!.split('=') as [string, string]
    for (const cookie of [`${name}=x`, `${name}=`, `${name}1=${value}`, `lynchet=${value}`, 'x', '=']) {
      const answer = await ask(open.port, '/api/survey', { headers: { cookie } })
      expect(answer.status).toBe(401)
    }
    const among = { cookie: `a=b; ${open.own.cookie}; c=d` }
    expect((await ask(open.port, '/api/survey', { headers: among })).status).toBe(200)
  })

  test('a change without the cookie is refused', async () => {
    const { origin } = open.own
    const answer = await ask(open.port, '/api/undo', {
      method: 'POST',
      headers: { origin, 'x-lynchet': '1' },
    })
    expect(answer.status).toBe(401)
  })

  test('a browser sees a page, not JSON', async () => {
    const answer = await ask(open.port, '/', { headers: { accept: 'text/html,*/*' } })
    expect(answer.status).toBe(401)
    expect(answer.headers['content-type']).toMatch(/^text\/html/)
    expect(answer.text).toContain('start Lynchet in the terminal')
  })
})

describe('the key', () => {
  async function fresh(): Promise<{
    target: string
    port: number
    origin: string
    close: () => Promise<void>
  }> {
    const server = await startServer({ service: fakeDesk(), deskFolder: '/nowhere' })
    const url = new URL(server.address)
    const target = url.pathname + url.search
    return { target, port: Number(url.port), origin: url.origin, close: () => server.close() }
  }

  test('buys a cookie once, and leads to an address without it', async () => {
    const { target, port, close } = await fresh()
    const first = await ask(port, target)
    expect(first.status).toBe(303)
    expect(first.headers.location).toBe('/')
    const cookie = first.headers['set-cookie']?.[0] ?? ''
    expect(cookie).toMatch(/^lynchet-\d+=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/)
    expect(cookie).not.toContain(target.slice('/?key='.length))
    const second = await ask(port, target, { headers: { accept: 'text/html' } })
    expect(second.status).toBe(401)
    expect(second.headers['set-cookie']).toBeUndefined()
    expect(second.text).toContain('start Lynchet again in the terminal')
    const again = await ask(port, target, { headers: { cookie: cookie.split(';')[0]! } })
    expect(again.status).toBe(303)
    await close()
  })

  test('is not used up by a load ahead of the person', async () => {
    const { target, port, close } = await fresh()
    for (const headers of [
      { 'sec-purpose': 'prefetch;prerender' },
      { 'sec-purpose': 'prefetch' },
      { purpose: 'prefetch' },
    ]) {
      const ahead = await ask(port, target, { headers })
      expect(ahead.status).toBe(503)
      expect(ahead.headers['set-cookie']).toBeUndefined()
    }
    expect((await ask(port, target, { method: 'HEAD' })).headers['set-cookie']).toBeUndefined()
    expect((await ask(port, target)).status).toBe(303)
    await close()
  })

  test('a wrong key buys nothing and spends nothing; a foreign name cannot spend it', async () => {
    const { target, port, close } = await fresh()
    expect((await ask(port, '/?key=guess')).status).toBe(401)
    expect((await ask(port, '/?key=')).status).toBe(401)
    expect((await ask(port, target, { headers: { host: `evil.example:${port}` } })).status).toBe(421)
    const picture = { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'no-cors', 'sec-fetch-dest': 'image' }
    expect((await ask(port, target, { headers: picture })).status).toBe(403)
    expect((await ask(port, target)).status).toBe(303)
    await close()
  })

  test('each start has its own', async () => {
    const [one, two] = await Promise.all([fresh(), fresh()])
    expect(one.target).not.toBe(two.target)
    expect((await ask(two.port, one.target)).status).toBe(401)
    await Promise.all([one.close(), two.close()])
  })
})

test('every answer carries the policy, those of errors too', async () => {
  const answers = await Promise.all([
    open.ask('/api/survey'),
    open.ask('/'),
    open.ask('/nothing'),
    open.ask('/%'),
    open.ask('/api/areas', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{' }),
    ask(open.port, '/api/survey'),
    open.ask('/', { headers: { host: 'evil.example' } }),
  ])
  expect(answers.map(({ status }) => status)).toEqual([200, 503, 404, 400, 400, 401, 421])
  for (const { headers } of answers) {
    const policy = headers['content-security-policy'] ?? ''
    for (const part of [
      "default-src 'self'",
      "frame-ancestors 'none'",
      "base-uri 'none'",
      "connect-src 'self'",
    ]) {
      expect(policy).toContain(part)
    }
    expect(policy).not.toMatch(/script-src|unsafe-eval|https?:/)
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['referrer-policy']).toBe('no-referrer')
    expect(headers['cross-origin-opener-policy']).toBe('same-origin')
    expect(headers['cross-origin-embedder-policy']).toBe('require-corp')
    expect(headers['cross-origin-resource-policy']).toBe('same-origin')
    expect(headers['x-powered-by']).toBeUndefined()
  }
})

const outer = Object.values(networkInterfaces())
  .flat()
  .find((face) => face && !face.internal && face.family === 'IPv4')

test.skipIf(!outer)('the server listens on this machine alone', async () => {
  const reached = fetch(`http://${outer?.address}:${open.port}/`, { signal: AbortSignal.timeout(3000) })
  await expect(reached).rejects.toThrow()
})

test('a port that another program has is named', async () => {
  const second = startServer({ service: fakeDesk(), deskFolder: '/nowhere', port: open.port })
  await expect(second).rejects.toMatchObject({ name: 'SurveyError', code: 'port-in-use' })
})
