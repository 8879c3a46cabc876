import { existsSync, mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs'
import http from 'node:http'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { errorReplyShape, importedFileShape } from '#contract'
import type { ServerOptions } from '#server'
import { ask, eventually, type OpenDesk, openDesk } from './desk-client.ts'

let opened: OpenDesk[] = []
afterEach(async () => {
  await Promise.all(opened.map((open) => open.close()))
  opened = []
})

async function fresh(options: Partial<ServerOptions> = {}): Promise<OpenDesk> {
  const open = await openDesk(options)
  opened.push(open)
  return open
}

const left = (open: OpenDesk): string[] => readdirSync(open.temporaryFolder)

/** A request under way, of which the test sends one part after another. */
function sending(open: OpenDesk, target: string, headers: http.OutgoingHttpHeaders = {}): http.ClientRequest {
  const request = http.request({
    host: '127.0.0.1',
    port: open.port,
    path: target,
    method: 'POST',
    headers: { ...open.own, ...headers },
    agent: false,
  })
  request.on('error', () => {})
  return request
}

const answered = (request: http.ClientRequest): Promise<{ status: number; text: string }> =>
  new Promise((resolve, reject) => {
    request.once('error', reject)
    request.once('response', async (reply) => {
      let text = ''
      for await (const chunk of reply) text += chunk
      resolve({ status: reply.statusCode ?? 0, text })
    })
  })

const codeOf = (text: string): string => errorReplyShape.parse(JSON.parse(text)).error.code

test.each([
  'application/gpx+xml',
  'application/json',
  'text/plain',
  'application/octet-stream',
  'nonsense',
  'multipart/form-data; boundary=x',
  undefined,
])('bytes of type %s come through whole, and nothing stays behind', async (type) => {
  const open = await fresh()
  const body = Buffer.from(Array.from({ length: 300_000 }, (_, i) => (i * 7) % 256))
  const headers = type === undefined ? {} : { 'content-type': type }
  const answer = await open.ask('/api/import?name=walk.gpx', { method: 'POST', headers, body })
  expect(answer.status).toBe(200)
  expect(importedFileShape.parse(answer.json()).name).toBe('walk.gpx')
  expect(open.desk.imported).toHaveLength(1)
  expect(open.desk.imported[0]?.bytes.equals(body)).toBe(true)
  expect(left(open)).toEqual([])
})

test('an empty file is a file, with a body of no bytes or no body', async () => {
  const open = await fresh()
  for (const body of [Buffer.alloc(0), undefined]) {
    const answer = await open.ask('/api/import?name=empty.gpx', { method: 'POST', ...(body && { body }) })
    expect(answer.status).toBe(200)
  }
  expect(open.desk.imported.map(({ bytes }) => bytes.length)).toEqual([0, 0])
})

test.each([
  ['../../etc/cron.d/x.gpx', 'x.gpx'],
  ['C:\\Users\\me\\walk 1.gpx', 'walk 1.gpx'],
  ['a\u0000b\n.gpx', 'ab.gpx'],
  ['Ærø "north": 2.gpx', 'Ærø "north": 2.gpx'],
  ['\u202Exgp.kml', 'xgp.kml'],
])('the name %j is a name only: %j', async (given, name) => {
  const open = await fresh()
  const target = `/api/import?name=${encodeURIComponent(given)}`
  expect((await open.ask(target, { method: 'POST', body: 'x' })).status).toBe(200)
  expect(open.desk.imported[0]?.name).toBe(name)
  expect(open.desk.imported[0]?.path.startsWith(open.temporaryFolder)).toBe(true)
})

test.each(['', '?name=', '?name=..%2F', `?name=${'x'.repeat(1001)}`, '?name=a&name=b'])(
  'without a usable name (%s) nothing is read',
  async (query) => {
    const open = await fresh()
    const answer = await open.ask(`/api/import${query}`, { method: 'POST', body: 'x' })
    expect(answer.status).toBe(400)
    expect(open.desk.imported).toEqual([])
  },
)

test('the file waits in a folder that only this user can enter', async () => {
  const open = await fresh()
  open.desk.holdImports = true
  const request = sending(open, '/api/import?name=a.gpx')
  const reply = answered(request)
  request.end('findspots')
  await eventually(() => expect(open.desk.jobs()).toHaveLength(1))
  const [folder] = left(open) as [string]
  if (process.platform !== 'win32') {
    expect(statSync(path.join(open.temporaryFolder, folder)).mode & 0o777).toBe(0o700)
    expect(statSync(path.join(open.temporaryFolder, folder, 'upload')).mode & 0o777).toBe(0o600)
  }
  open.desk.release(open.desk.jobs()[0]?.id ?? '')
  expect((await reply).status).toBe(200)
  expect(left(open)).toEqual([])
})

test('a file over the limit is refused by its stated length, before it is read', async () => {
  const open = await fresh({ uploadLimitBytes: 1024 ** 2 })
  const body = Buffer.alloc(1024 ** 2 + 1)
  const answer = await open.ask('/api/import?name=big.gpx', { method: 'POST', body })
  expect(answer.status).toBe(413)
  expect(errorReplyShape.parse(answer.json()).error).toEqual({
    code: 'file-too-large',
    text: 'big.gpx is larger than 1 MiB, the most that can be sent to the desk: use the command `lynchet import` on it.',
  })
  const exact = await open.ask('/api/import?name=ok.gpx', { method: 'POST', body: body.subarray(1) })
  expect(exact.status).toBe(200)
  expect(open.desk.imported).toHaveLength(1)
})

test('a file over the limit that does not state its length is refused too, and the sender gets the answer', async () => {
  const open = await fresh({ uploadLimitBytes: 100_000 })
  const request = sending(open, '/api/import?name=big.gpx', { 'transfer-encoding': 'chunked' })
  const reply = answered(request)
  for (let i = 0; i < 40; i++) request.write(Buffer.alloc(50_000))
  request.end()
  const { status, text } = await reply
  expect([status, codeOf(text)]).toEqual([413, 'file-too-large'])
  expect(open.desk.imported).toEqual([])
  expect(left(open)).toEqual([])
})

test('a temporary folder that is not there is said plainly', async () => {
  const temporaryFolder = path.join(mkdtempSync(path.join(tmpdir(), 'lynchet-test-')), 'gone')
  const open = await fresh({ surroundings: { temporaryFolder } })
  const answer = await open.ask('/api/import?name=a.gpx', { method: 'POST', body: Buffer.alloc(3_000_000) })
  expect([answer.status, codeOf(answer.text)]).toEqual([500, 'cannot-write'])
  rmSync(path.dirname(temporaryFolder), { recursive: true })
})

test('a sender who breaks off leaves no file and starts no work', async () => {
  const open = await fresh()
  const request = sending(open, '/api/import?name=a.gpx', { 'content-length': 1_000_000 })
  request.write(Buffer.alloc(1000))
  await eventually(() => expect(left(open)).toHaveLength(1))
  request.destroy()
  await eventually(() => expect(left(open)).toEqual([]))
  expect(open.desk.imported).toEqual([])
  expect(open.complaints).toEqual([])
})

test('a sender who goes away while the file is read takes the work back', async () => {
  const open = await fresh()
  open.desk.holdImports = true
  const request = sending(open, '/api/import?name=a.gpx')
  request.end('x')
  await eventually(() => expect(open.desk.jobs().map(({ state }) => state)).toEqual(['running']))
  request.destroy()
  await eventually(() => expect(open.desk.jobs().map(({ state }) => state)).toEqual(['cancelled']))
  await eventually(() => expect(left(open)).toEqual([]))
  expect(open.complaints).toEqual([])
})

test('a cancel from the page ends the import with the code cancelled', async () => {
  const open = await fresh()
  open.desk.holdImports = true
  const request = sending(open, '/api/import?name=a.gpx')
  const reply = answered(request)
  request.end('x')
  await eventually(() => expect(open.desk.jobs()).toHaveLength(1))
  await open.ask(`/api/jobs/${open.desk.jobs()[0]?.id}`, { method: 'DELETE' })
  const { status, text } = await reply
  expect([status, codeOf(text)]).toEqual([409, 'cancelled'])
  expect(left(open)).toEqual([])
})

test('a closing server takes back what is under way and waits until its file is gone', async () => {
  const open = await openDesk()
  open.desk.holdImports = true
  sending(open, '/api/import?name=a.gpx').end('x')
  sending(open, '/api/import?name=b.gpx', { 'content-length': 10 }).write('half')
  await eventually(() => expect(left(open)).toHaveLength(2))
  await eventually(() => expect(open.desk.jobs()).toHaveLength(1))
  await open.close()
  expect(open.desk.jobs().map(({ state }) => state)).toEqual(['cancelled'])
  expect(existsSync(open.temporaryFolder)).toBe(false)
  await expect(ask(open.port, '/')).rejects.toThrow()
})
