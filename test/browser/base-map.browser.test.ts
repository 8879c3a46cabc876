import http from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { PlaceView } from '#contract'
import { asked, colourAt, nameOf, type OpenPage, openPage, picture } from './picture-page.ts'

/** A base map, in the real program and a real browser, from a server of the test's own. */
let open: OpenPage
let page: Page
beforeAll(async () => {
  open = await openPage()
  page = open.page
  const tour = page.getByTestId('tour').getByRole('button', { name: 'Close' })
  if (await tour.isVisible()) await tour.click()
  await page.keyboard.press('k')
})
afterAll(() => open?.close())

const map = (): Locator => page.getByTestId('map')

/** Nothing is left on the map but what lies below all. */
async function everythingElseOff(): Promise<void> {
  const boxes = page.getByRole('region', { name: 'Layers' }).getByRole('checkbox')
  for (const box of await boxes.all()) await box.uncheck()
}

test('a base map asks no other server until it is shown, then its own alone, and lies where it should', async () => {
  const wanted: string[] = []
  // Tiles whose colour tells where they are: red where column and row are both even or both odd, else blue.
  const tile = (red: number, blue: number) => picture(256, 256, () => [red, 30, blue])
  const [even, odd] = await Promise.all([tile(200, 30), tile(30, 200)])
  const server = http.createServer((request, reply) => {
    wanted.push(request.url ?? '')
    const [, , x = '0', y = '0'] = (request.url ?? '').replace('.png', '').split('/')
    reply.writeHead(200, { 'content-type': 'image/png', 'access-control-allow-origin': '*' })
    reply.end((Number(x) + Number(y)) % 2 === 0 ? even : odd)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  const policy = async (): Promise<string> =>
    page.evaluate(async () => (await fetch('/')).headers.get('content-security-policy') ?? '')
  try {
    expect(await policy()).not.toMatch(/https?:/)
    await page.getByText('Add a base map').click()
    await page.getByLabel('Name of the map').fill('Chequers')
    await page.getByLabel('Address').fill(`${origin}/{z}/{x}/{y}.png`)
    await page.getByLabel('Whose map it is').fill('© Nobody in particular')
    await page.getByRole('button', { name: 'Add it, without showing it' }).click()
    await page.getByRole('button', { name: 'Show Chequers' }).waitFor()
    expect(await policy()).not.toMatch(/https?:/)
    expect(wanted).toEqual([])
    await page.getByRole('button', { name: 'Show Chequers' }).click()
    await page.getByRole('button', { name: 'Hide Chequers' }).waitFor()
    expect((await policy()).match(/https?:[^ ;]*/g)).toEqual([origin, origin])
    await everythingElseOff()
    await expect.poll(() => wanted.length, { timeout: 15_000 }).toBeGreaterThan(0)
    await expect.poll(() => page.getByTestId('map-credits').textContent()).toBe('© Nobody in particular')
    await expectBaseMapInPlace(wanted)
    await page.getByRole('button', { name: 'Hide Chequers' }).click()
    await page.getByRole('button', { name: 'Show Chequers' }).waitFor()
    expect(await policy()).not.toMatch(/https?:/)
    const before = wanted.length
    await map().focus()
    await page.keyboard.press('+')
    await page.waitForTimeout(800)
    expect(wanted.length).toBe(before)
  } finally {
    server.closeAllConnections()
    server.close()
  }
})

/** Compares the colour at places of the map with that of the tile which holds them, by the formula of the OpenStreetMap wiki, Slippy map tilenames. */
async function expectBaseMapInPlace(wanted: readonly string[]): Promise<void> {
  const zoom = Number(wanted.at(-1)?.split('/')[1])
  const box = await map().boundingBox()
  if (!box) throw new Error('the map is not shown')
  let told = 0
  for (const [right, down] of [
    [0.3, 0.3],
    [0.5, 0.45],
    [0.6, 0.6],
    [0.4, 0.7],
  ] as const) {
    await page.mouse.move(box.x + box.width * right, box.y + box.height * down)
    const text = (await page.getByTestId('readout-pair').textContent()) ?? ''
    const [easting = 0, northing = 0] = text
      .replaceAll(/[\s\u202f]/g, '')
      .split(/[EN,]+/)
      .map(Number)
    const { lat, lon } = await asked<PlaceView>(
      page,
      `/api/places?text=${encodeURIComponent(`${easting} ${northing}`)}`,
    )
    const across = ((lon + 180) / 360) * 2 ** zoom
    const phi = (lat * Math.PI) / 180
    const along = ((1 - Math.asinh(Math.tan(phi)) / Math.PI) / 2) * 2 ** zoom
    const fromEdge = Math.min(...[across, along].map((value) => Math.abs(value - Math.round(value))))
    // Too near the edge of a tile the readout's metre decides.
    if (fromEdge < 0.06) continue
    told += 1
    const colour = (Math.floor(across) + Math.floor(along)) % 2 === 0 ? 'red' : 'blue'
    await page.mouse.move(5, 5)
    await expect.poll(() => colourAt(page, map(), right, down).then(nameOf), { timeout: 8000 }).toBe(colour)
  }
  expect(told).toBeGreaterThan(1)
}

test('nothing went wrong on the way', () => expect(open.complaints).toEqual([]))
