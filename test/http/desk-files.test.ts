import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type OpenDesk, openDesk } from './desk-client.ts'

const around = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
const deskFolder = path.join(around, 'desk')
let open: OpenDesk

beforeAll(async () => {
  mkdirSync(path.join(deskFolder, 'assets'), { recursive: true })
  mkdirSync(path.join(around, 'desk-private'))
  const files = {
    'index.html': '<!doctype html><title>the desk</title>',
    'icon.svg': '<svg xmlns="http://www.w3.org/2000/svg"/>',
    '.hidden': 'secret',
    'assets/index-B4x_9QpZ.js': 'export {}',
    'assets/plain.js': 'export {}',
    '../secret.txt': 'secret',
    '../desk-private/secret.txt': 'secret',
  }
  for (const [name, text] of Object.entries(files)) writeFileSync(path.join(deskFolder, name), text)
  open = await openDesk({ deskFolder })
})
afterAll(async () => {
  await open.close()
  rmSync(around, { recursive: true })
})

test.each(['/', '/looks', '/looks/', '/looks/colours', '/?from=somewhere', '/index.html'])(
  '%s is the desk page, always asked for anew',
  async (target) => {
    const answer = await open.ask(target)
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('the desk')
    expect(answer.headers['content-type']).toMatch(/^text\/html/)
    expect(answer.headers['cache-control']).toBe('no-cache')
    expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'")
  },
)

test('files named by what they hold are kept for ever, others are asked for anew', async () => {
  const kept = await open.ask('/assets/index-B4x_9QpZ.js')
  expect(kept.headers['cache-control']).toBe('private, max-age=31536000, immutable')
  expect(kept.headers['content-type']).toMatch(/javascript/)
  for (const target of ['/assets/plain.js', '/icon.svg']) {
    expect((await open.ask(target)).headers['cache-control']).toBe('no-cache')
  }
  const { etag } = (await open.ask('/')).headers
  const again = await open.ask('/', { headers: { 'if-none-match': etag ?? '' } })
  expect(again.status).toBe(304)
})

test.each([
  '/../secret.txt',
  '/%2e%2e/secret.txt',
  '/..%2fsecret.txt',
  '/%2e%2e%2fsecret.txt',
  '/..%5csecret.txt',
  '/..\\secret.txt',
  '/assets/../../secret.txt',
  '/assets/..%2f..%2fsecret.txt',
  '/assets/%252e%252e/%252e%252e/secret.txt',
  '//secret.txt',
  '/desk-private/secret.txt',
  '/../desk-private/secret.txt',
  '/secret.txt%00.js',
  '/index.html%00',
  '/.hidden',
  '/%2ehidden',
  '/looks/../../secret.txt',
  '/assets',
  '/assets/',
  'http://127.0.0.1/../secret.txt',
  `/${'../'.repeat(12)}etc/passwd`,
  '/file:///etc/passwd',
])('%s gives no file and no list of files', async (target) => {
  const answer = await open.ask(target)
  // /looks/… is an address of the page itself, so it may give the page; nothing else may give anything.
  if (answer.status === 200) expect(answer.text).toContain('the desk')
  else expect([400, 403, 404]).toContain(answer.status)
  expect(answer.text).not.toMatch(/secret|root:|hidden|index-B4x/)
})

test('the field page stands below /field/, behind the same guard', async () => {
  const fieldFolder = path.join(around, 'field')
  mkdirSync(fieldFolder)
  writeFileSync(path.join(fieldFolder, 'index.html'), '<!doctype html><title>the field page</title>')
  const other = await openDesk({ deskFolder, fieldFolder })
  try {
    expect((await other.ask('/field/')).text).toContain('the field page')
    expect((await other.ask('/field')).headers.location).toBe('/field/')
    expect((await other.ask('/field/../secret.txt')).text).not.toContain('secret')
    expect((await fetch(`http://127.0.0.1:${other.port}/field/`)).status).toBe(401)
  } finally {
    await other.close()
  }
})

test('a desk that has not been built says how to build it, and is shown once it is', async () => {
  const folder = path.join(around, 'later')
  const early = await openDesk({ deskFolder: folder })
  for (const target of ['/', '/looks']) {
    const answer = await early.ask(target, { headers: { accept: 'text/html' } })
    expect(answer.status).toBe(503)
    expect(answer.text).toContain('npm start')
    expect(answer.headers['cache-control']).toBe('no-store')
  }
  expect((await early.ask('/assets/x.js')).status).toBe(404)
  expect((await early.ask('/api/survey')).status).toBe(200)
  mkdirSync(folder)
  writeFileSync(path.join(folder, 'index.html'), 'built')
  expect((await early.ask('/')).text).toBe('built')
  await early.close()
})
