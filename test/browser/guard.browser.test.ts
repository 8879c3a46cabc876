import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningServer, startServer } from '#server'
import { type FakeDesk, fakeDesk } from '../http/fake-desk.ts'
import { launchChromium } from './chromium.ts'
import { axeOn } from './no-barrier.ts'

/** The server's guard against a real browser: what chromium itself sends, keeps and lets through. The desk is a double. */
let browser: Browser
let desk: FakeDesk
let server: RunningServer
let origin: string

beforeAll(async () => {
  browser = await launchChromium()
  desk = fakeDesk()
  server = await startServer({ service: desk, deskFolder: '/nowhere', uploadLimitBytes: 1024 ** 2 })
  origin = new URL(server.address).origin
})
afterAll(async () => {
  await browser.close()
  await server.close()
})

let letIn: BrowserContext
let page: Page

test('the address lets a browser in once; the key leaves the address bar', async () => {
  letIn = await browser.newContext()
  page = await letIn.newPage()
  await page.goto(server.address)
  expect(page.url()).toBe(`${origin}/`)
  const [cookie] = await letIn.cookies()
  expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict', path: '/' })
  expect(await page.evaluate(() => document.cookie)).toBe('')
  await page.goto(server.address)
  expect(page.url()).toBe(`${origin}/`)
  expect(await page.title()).toContain('The desk has not been built')
})

test.each(['light', 'dark'] as const)(
  'another browser is told what to do, on a page that all can read (%s)',
  async (colorScheme) => {
    const stranger = await browser.newContext({ colorScheme, viewport: { width: 390, height: 844 } })
    const other = await stranger.newPage()
    const reply = await other.goto(server.address)
    expect(reply?.status()).toBe(401)
    expect(await other.textContent('main')).toContain('start Lynchet again in the terminal')
    expect((await axeOn(other).analyze()).violations).toEqual([])
    expect(await other.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
    await other.getByRole('link').click()
    await other.waitForURL(`${origin}/`)
    expect(await other.textContent('main')).toContain('open the address that it prints')
    await stranger.close()
  },
)

/** Runs in the page: a change asked for as the desk asks. */
const change = async (): Promise<number> =>
  (await fetch('/api/undo', { method: 'POST', headers: { 'x-lynchet': '1' } })).status

test("the desk's own page may ask and change, and hear of changes", async () => {
  expect(await page.evaluate(async () => (await fetch('/api/survey')).status)).toBe(200)
  expect(await page.evaluate(change)).toBe(200)
  const heard = page.evaluate(
    () =>
      new Promise<string>((resolve) => {
        const source = new EventSource('/api/events')
        source.addEventListener('survey', (event) => {
          source.close()
          resolve(event.data)
        })
      }),
  )
  expect(await heard).toBe('{"revision":1}')
})

test('a file over the limit is answered, not cut off', async () => {
  const answers = await page.evaluate(async () => {
    const send = async (bytes: number): Promise<unknown[]> => {
      const body = new File([new Uint8Array(bytes)], 'walk.gpx')
      const headers = { 'x-lynchet': '1' }
      const reply = await fetch('/api/import?name=walk.gpx', { method: 'POST', headers, body })
      const { error } = await reply.json()
      return [reply.status, error?.code]
    }
    return [await send(30 * 1024 * 1024), await send(1024 ** 2)]
  })
  expect(answers).toEqual([
    [413, 'file-too-large'],
    [200, undefined],
  ])
})

test('the policy stops script in the page and addresses outside', async () => {
  const blocked = await page.evaluate(async () => {
    const seen: string[] = []
    document.addEventListener('securitypolicyviolation', (event) => seen.push(event.effectiveDirective))
    const script = document.createElement('script')
    script.textContent = 'document.title = "taken over"'
    document.body.append(script)
    const picture = document.createElement('img')
    picture.src = 'http://127.0.0.1:9/picture.png'
    document.body.append(picture)
    await fetch('http://127.0.0.1:9/').catch(() => {})
    await new Promise((resolve) => setTimeout(resolve, 100))
    return seen.sort()
  })
  expect(blocked).toEqual(['connect-src', 'img-src', 'script-src-elem'])
  expect(await page.title()).not.toBe('taken over')
})

/** A page of another site on this machine: another port, or another name, with the same browser and its cookies. */
function otherSite(): Promise<Server> {
  const site = createServer((_request, reply) => {
    reply.setHeader('content-type', 'text/html').end('<!doctype html><title>another site</title><body>')
  })
  return new Promise((resolve) => {
    site.listen(0, '127.0.0.1', () => resolve(site))
  })
}

test.each(['127.0.0.1', 'localhost'])(
  'a page on another port of %s gets and changes nothing',
  async (name) => {
    const site = await otherSite()
    const visitor = await letIn.newPage()
    await visitor.goto(`http://${name}:${(site.address() as AddressInfo).port}/`)
    const before = desk.view().revision
    const seen = await visitor.evaluate(async (target) => {
      const status = (promise: Promise<Response>): Promise<string> =>
        promise.then(
          (reply) => `${reply.type} ${reply.status}`,
          () => 'failed',
        )
      const settings = JSON.stringify({ swathM: 9 })
      const loads = (kind: 'img' | 'script', path: string): Promise<string> =>
        new Promise((resolve) => {
          const element = document.createElement(kind)
          element.onload = () => resolve('loaded')
          element.onerror = () => resolve('failed')
          element.src = target + path
          document.body.append(element)
        })
      return {
        read: await status(fetch(`${target}/api/survey`, { credentials: 'include' })),
        change: await status(
          fetch(`${target}/api/settings`, {
            method: 'PATCH',
            credentials: 'include',
            headers: { 'x-lynchet': '1', 'content-type': 'application/json' },
            body: settings,
          }),
        ),
        // Simple requests of the Fetch standard: they are sent without asking the server first.
        blindChange: await status(
          fetch(`${target}/api/undo`, {
            method: 'POST',
            mode: 'no-cors',
            credentials: 'include',
            body: settings,
          }),
        ),
        picture: await loads('img', '/api/cover/cover-1/0/0/0.png'),
        script: await loads('script', '/api/survey'),
        events: await new Promise((resolve) => {
          const events = new EventSource(`${target}/api/events`, { withCredentials: true })
          events.onopen = () => resolve('opened')
          events.onerror = () => resolve('failed')
        }),
      }
    }, origin)
    expect(seen).toEqual({
      read: 'failed',
      change: 'failed',
      blindChange: 'failed',
      picture: 'failed',
      script: 'failed',
      events: 'failed',
    })
    expect(desk.view().revision).toBe(before)
    expect(desk.view().settings.swathM).toBe(1.5)

    const framed = await visitor.evaluate(async (target) => {
      const frame = document.createElement('iframe')
      const loaded = new Promise((resolve) => {
        frame.onload = resolve
      })
      frame.src = `${target}/`
      document.body.append(frame)
      await loaded
      return frame.contentDocument === null
    }, origin)
    expect(framed).toBe(true)
    const inside = visitor.frames().find((frame) => frame !== visitor.mainFrame())
    expect(await inside?.title()).not.toContain('Lynchet')

    await visitor.evaluate((target) => {
      const form = Object.assign(document.createElement('form'), {
        method: 'post',
        action: `${target}/api/undo`,
      })
      document.body.append(form)
      form.submit()
    }, origin)
    await visitor.waitForURL(`${origin}/api/undo`)
    expect(await visitor.textContent('body')).toContain('foreign-page')
    await visitor.close()
    site.close()
  },
)

test('a rebound name is refused by a browser too', async () => {
  const mapped = await launchChromium(['--host-resolver-rules=MAP rebound.example 127.0.0.1'])
  const visitor = await mapped.newPage()
  const port = new URL(origin).port
  const reply = await visitor.goto(`http://rebound.example:${port}/`)
  expect(reply?.status()).toBe(421)
  await mapped.close()
})
