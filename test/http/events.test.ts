import { afterEach, expect, test } from 'vitest'
import { eventually, type OpenDesk, openDesk } from './desk-client.ts'
import { somewhere } from './fake-desk.ts'

let opened: OpenDesk[] = []
afterEach(async () => {
  await Promise.all(opened.map((open) => open.close()))
  opened = []
})

async function fresh(heartbeatMs?: number): Promise<OpenDesk> {
  const open = await openDesk(heartbeatMs === undefined ? {} : { heartbeatMs })
  opened.push(open)
  return open
}

/** Listens as a page would; `text` grows as the stream does. */
async function listen(
  open: OpenDesk,
): Promise<{ reply: Response; seen: { text: string; ended: boolean }; stop: () => void }> {
  const stopper = new AbortController()
  const reply = await fetch(`${open.origin}/api/events`, { headers: open.own, signal: stopper.signal })
  const seen = { text: '', ended: false }
  const read = async (): Promise<void> => {
    for await (const chunk of reply.body!.pipeThrough(new TextDecoderStream())) seen.text += chunk
  }
  void read()
    .catch(() => {})
    .finally(() => {
      seen.ended = true
    })
  return { reply, seen, stop: () => stopper.abort() }
}

test('a page that comes is told how things stand, then of every change', async () => {
  const open = await fresh()
  const { reply, seen } = await listen(open)
  expect(reply.headers.get('content-type')).toMatch(/^text\/event-stream/)
  expect(reply.headers.get('cache-control')).toBe('no-store')
  expect(reply.headers.get('content-security-policy')).toContain("default-src 'self'")
  await eventually(() => expect(seen.text).toBe('retry: 2000\n\nevent: survey\ndata: {"revision":1}\n\n'))
  await open.send('POST', '/api/areas', { name: 'x', polygons: somewhere })
  await eventually(() => expect(seen.text).toMatch(/event: survey\ndata: \{"revision":2\}\n\n$/))
})

test('work under way is told of, old work is not', async () => {
  const open = await fresh()
  await open.send('POST', '/api/areas', { name: 'x', polygons: somewhere })
  for (let i = 0; i < 2; i++) await open.ask('/api/cover', { method: 'POST' })
  const [ended, running] = open.desk.jobs()
  open.desk.release(ended!.id)
  const { seen } = await listen(open)
  await eventually(() => expect(seen.text).toContain(`event: job\ndata: ${JSON.stringify(running)}\n\n`))
  expect(seen.text).not.toContain(ended!.id)
  open.desk.tell({ type: 'job', job: { ...running!, label: 'line one\nline two', done: 0.75 } })
  await eventually(() => expect(seen.text).toContain('"label":"line one\\nline two","done":0.75'))
})

test('an idle stream shows signs of life', async () => {
  const open = await fresh(20)
  const { seen } = await listen(open)
  await eventually(() => expect(seen.text.split(': still here\n\n').length).toBeGreaterThan(2))
})

test('a page that goes away is told no more, and others are', async () => {
  const open = await fresh()
  const [one, two] = await Promise.all([listen(open), listen(open)])
  await eventually(() => expect(open.desk.listeners.size).toBe(2))
  one.stop()
  await eventually(() => expect(open.desk.listeners.size).toBe(1))
  open.desk.tell({ type: 'survey', revision: 9 })
  await eventually(() => expect(two.seen.text).toContain('{"revision":9}'))
})

test('streams end with the server, which does not wait for them', async () => {
  const open = await openDesk()
  const { seen } = await listen(open)
  await eventually(() => expect(seen.text).toContain('revision'))
  const before = performance.now()
  await open.close()
  expect(performance.now() - before).toBeLessThan(10_000)
  await eventually(() => expect(seen.ended).toBe(true))
  expect(open.desk.listeners.size).toBe(0)
})

test('a fault at the start is an answer like any other', async () => {
  const open = await fresh()
  open.desk.jobs = () => {
    throw new Error('broken')
  }
  const answer = await open.ask('/api/events')
  expect(answer.status).toBe(500)
  expect(open.desk.listeners.size).toBe(0)
})
