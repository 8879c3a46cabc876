import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { readGpx } from '#formats/gpx'
import { type WalkPack, writeWalkPack } from '#formats/walk-pack'
import { launchChromium } from '../../test/browser/chromium.ts'
import { axeOn } from '../../test/browser/no-barrier.ts'

/** The built page in chromium, with positions given by the test: what is recorded must come home in the GPX, come what may. */
const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-field-'))
let browser: Browser
let server: Server
let address: string

const mediaTypes: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
}

/** Serves the built page under /field/ with a policy as strict as the desk's. */
function serve(): Server {
  return createServer((request, reply) => {
    const asked = new URL(request.url!, 'http://localhost').pathname.replace(/^\/field\//, '') || 'index.html'
    try {
      const bytes = readFileSync(path.join(folder, asked))
      reply.setHeader('content-type', mediaTypes[path.extname(asked)] ?? 'application/octet-stream')
      reply.setHeader(
        'content-security-policy',
        "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' blob:",
      )
      reply.end(bytes)
    } catch {
      reply.statusCode = 404
      reply.end()
    }
  })
}

/** Builds the page as it ships, in a process of its own: the test runner's mode would make another page of it. */
function buildPage(): void {
  const root = fileURLToPath(new URL('../..', import.meta.url))
  const vite = path.join(root, 'node_modules', 'vite', 'bin', 'vite.js')
  const words = [
    'build',
    '--config',
    'config/vite.field.ts',
    '--outDir',
    folder,
    '--emptyOutDir',
    '--logLevel',
    'error',
  ]
  execFileSync(process.execPath, [vite, ...words], {
    cwd: root,
    env: { ...process.env, NODE_ENV: 'production' },
  })
}

beforeAll(async () => {
  buildPage()
  server = serve().listen(0, '127.0.0.1')
  await new Promise((resolve) => server.once('listening', resolve))
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/field/`
  browser = await launchChromium()
})

afterAll(async () => {
  await browser?.close()
  server?.closeAllConnections()
  server?.close()
  rmSync(folder, { recursive: true, force: true })
})

interface Opened {
  readonly context: BrowserContext
  readonly page: Page
  readonly complaints: string[]
}

async function open(options: Parameters<Browser['newContext']>[0] = {}): Promise<Opened> {
  const context = await browser.newContext({
    viewport: { width: 360, height: 740 },
    geolocation: placeAt(0),
    permissions: ['geolocation'],
    acceptDownloads: true,
    ...options,
  })
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  page.on('pageerror', (error) => complaints.push(error.message))
  await page.goto(address)
  return { context, page, complaints }
}

/** Places five metres or so apart, northwards. */
function placeAt(i: number): { latitude: number; longitude: number; accuracy: number } {
  return { latitude: 53.0013 + i * 5e-5, longitude: 0.3605, accuracy: 3 + i / 10 }
}

async function fixesShown(page: Page): Promise<number> {
  const value = await page.locator('dl > div', { hasText: 'Fixes' }).locator('dd').textContent()
  return Number(value)
}

/** Moves the device and waits until the page has written down the new place. */
async function moveTo({ context, page }: Opened, i: number): Promise<void> {
  const before = await fixesShown(page)
  await context.setGeolocation(placeAt(i))
  await expect.poll(() => fixesShown(page)).toBeGreaterThan(before)
}

const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name }).click()
const status = (page: Page) => page.getByRole('status').first()

test('a walk survives a reload and the loss of the network, and comes home whole as GPX', async () => {
  const opened = await open()
  const { context, page, complaints } = opened
  await press(page, 'Start recording')
  await expect.poll(() => fixesShown(page)).toBe(1)
  for (const i of [1, 2, 3]) await moveTo(opened, i)
  await press(page, 'Mark a findspot')
  await page.getByRole('textbox').fill('bag 12, buckle')
  expect(await page.locator('dl > div', { hasText: 'Distance' }).locator('dd').textContent()).toBe(
    '17\u202fm',
  )

  await page.reload()
  await expect.poll(() => status(page).textContent()).toContain('Recording')
  await expect.poll(() => fixesShown(page)).toBe(4)
  expect(await page.getByRole('textbox').inputValue()).toBe('bag 12, buckle')
  await moveTo(opened, 4)

  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined))
  await context.setOffline(true)
  server.closeAllConnections()
  await page.reload()
  await expect.poll(() => status(page).textContent()).toContain('Recording')
  await moveTo(opened, 5)
  await press(page, 'Mark a findspot')
  const shown = await fixesShown(page)

  await press(page, 'Stop recording')
  await press(page, 'Yes, stop')
  const [download] = await Promise.all([page.waitForEvent('download'), press(page, 'Save as GPX')])
  expect(download.suggestedFilename()).toMatch(/^walk-\d{4}-\d\d-\d\d-\d{4}\.gpx$/)
  const content = readGpx(readFileSync(await download.path()), { fileName: 'walk.gpx' })
  expect(content.faults).toEqual([])
  const [track] = content.tracks
  expect(track!.xy.length / 2).toBe(shown)
  const lats = Array.from(track!.xy).filter((_, i) => i % 2 === 1)
  expect(lats.map((lat) => Math.round((lat - 53.0013) / 5e-5))).toEqual(
    expect.arrayContaining([0, 1, 2, 3, 4, 5]),
  )
  expect(Math.max(...lats.map((lat, i) => lats[i - 1]! - lat || 0))).toBeLessThanOrEqual(0)
  expect(track!.segmentStart).toHaveLength(3)
  expect(track!.time!.every((time, i) => i === 0 || time > track!.time![i - 1]!)).toBe(true)
  expect(content.findspots).toHaveLength(2)
  expect(content.findspots[0]).toMatchObject({ name: 'Mark 1', note: 'bag 12, buckle', x: 0.3605 })
  expect(content.findspots[0]!.y).toBeCloseTo(placeAt(3).latitude, 7)
  expect(content.findspots[1]!.y).toBeCloseTo(placeAt(5).latitude, 7)
  expect(complaints).toEqual([])
  await context.close()
})

test('a refused permission is said in words, and Start works once it is given', async () => {
  const opened = await open({ permissions: [] })
  const { context, page } = opened
  await press(page, 'Start recording')
  await expect.poll(() => page.getByText('may not use your position').count()).toBe(1)
  expect(await page.getByRole('button', { name: 'Mark a findspot' }).isDisabled()).toBe(true)
  await press(page, 'Stop recording')
  await press(page, 'Yes, stop')
  await context.grantPermissions(['geolocation'])
  await press(page, 'Start recording')
  await expect.poll(() => fixesShown(page)).toBe(1)
  await context.close()
})

test('a second window waits while the first is open', async () => {
  const { context, page } = await open()
  await expect.poll(() => status(page).textContent()).toBe('Not recording')
  const second = await context.newPage()
  await second.goto(address)
  await expect.poll(() => status(second).textContent()).toContain('open in another window')
  await page.close()
  await expect.poll(() => status(second).textContent()).toBe('Not recording')
  await context.close()
})

test.each(['light', 'dark'] as const)(
  '%s: axe finds nothing to mend, and every target is thumb-sized',
  async (scheme) => {
    const { context, page } = await open({ colorScheme: scheme })
    const axe = async (): Promise<string[]> => {
      const { violations } = await axeOn(page)
        .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
        .analyze()
      return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)
    }
    expect(await page.evaluate(() => document.documentElement.dataset.look)).toBe(scheme)
    expect(await axe()).toEqual([])
    await press(page, 'Start recording')
    await expect.poll(() => fixesShown(page)).toBe(1)
    await press(page, 'Mark a findspot')
    await press(page, 'Stop recording')
    expect(await axe()).toEqual([])
    const heights = await page
      .locator('button, input')
      .evaluateAll((targets) => targets.map((target) => target.getBoundingClientRect().height))
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(48)
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true)
    await press(page, 'Yes, stop')
    await page.getByRole('button', { name: 'Save as GPX' }).waitFor()
    expect(await axe()).toEqual([])
    await context.close()
  },
)

const packed: WalkPack = {
  manifest: {
    format: 'lynchet-walk-pack',
    version: 1,
    survey: { uuid: 'u', code: 'NST', title: 'Ninestile' },
    plan: 'Tuesday on Long Ground',
    area: 'Long Ground',
    madeAt: '2026-11-25T18:00:00.000Z',
    spacingM: 2,
    lengthM: 266,
    walkers: 1,
  },
  area: [
    {
      epsg: 4326,
      name: 'Long Ground',
      polygons: [{ rings: [Float64Array.of(0.36, 53.001, 0.362, 53.001, 0.362, 53.002, 0.36, 53.001)] }],
      attributes: {},
    },
  ],
  lanes: [
    {
      epsg: 4326,
      name: 'Lane 1',
      walked: false,
      xy: Float64Array.of(0.3602, 53.0011, 0.3618, 53.0011),
      segmentStart: Uint32Array.of(0),
      time: null,
      elevation: null,
      hdop: null,
      extras: [],
      attributes: {},
    },
  ],
  targets: [
    {
      epsg: 4326,
      name: 'Mound',
      x: 0.3605,
      y: 53.0023,
      accuracyM: null,
      elevation: null,
      time: null,
      note: null,
      find: null,
      attributes: {},
    },
  ],
  constraints: { areas: [], tracks: [], findspots: [] },
  cautions: ['Lane 1 touches the barrow.'],
  pictures: [
    {
      file: 'pictures/1.jpg',
      name: 'From the air',
      takenOn: '2024-06-20',
      attribution: 'Invented',
      mediaType: 'image/jpeg',
      columns: 16,
      rows: 12,
      epsg: 27_700,
      west: 558_000,
      north: 347_000,
      pixelWidthM: 10,
      pixelHeightM: 10,
      corners: [
        [0.3595, 53.0025],
        [0.3625, 53.0025],
        [0.3625, 53.0005],
        [0.3595, 53.0005],
      ],
      bytes: await sharp({ create: { width: 16, height: 12, channels: 3, background: '#7a8a3a' } })
        .jpeg()
        .toBuffer(),
    },
  ],
}

test('a walk pack is shown, with the way to its targets, and is there again after a reload', async () => {
  const { context, page, complaints } = await open()
  const field = page.getByLabel('Take a walk pack out')
  await field.setInputFiles({ name: 'no.zip', mimeType: 'application/zip', buffer: Buffer.from('no zip') })
  await page.getByRole('alert').waitFor()
  const buffer = Buffer.from(writeWalkPack(packed))
  await field.setInputFiles({ name: 'tuesday.zip', mimeType: 'application/zip', buffer })
  await page.getByRole('heading', { name: 'Tuesday on Long Ground' }).waitFor()
  await page.reload()
  await page.getByRole('img', { name: /1 lanes and 1 targets/ }).waitFor()
  const choice = page.getByLabel('Picture of the ground')
  await expect.poll(() => page.locator('svg image').getAttribute('href')).toMatch(/^blob:/)
  await choice.selectOption({ label: 'None' })
  await expect.poll(() => page.locator('svg image').count()).toBe(0)
  await choice.selectOption({ label: 'From the air (2024-06-20)' })
  await page.getByText('Invented', { exact: true }).waitFor()
  await press(page, 'Start recording')
  // 0.001 degrees of latitude north of where the device stands: 111.3 m by geographiclib-geodesic 2.2.0.
  await page.getByText(/^111\s?m$/).waitFor()
  if (process.env.LYNCHET_PICTURES)
    await page.screenshot({ path: path.join(process.env.LYNCHET_PICTURES, 'field-pack.png'), fullPage: true })
  const { violations } = await axeOn(page).analyze()
  expect(violations.map(({ id }) => id)).toEqual([])
  await press(page, 'Put the pack away')
  await field.waitFor()
  expect(complaints).toEqual([])
  await context.close()
})
