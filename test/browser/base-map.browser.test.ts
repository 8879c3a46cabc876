import http from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { PlaceView } from '#contract'
import { colourAt, nameOf, picture } from './colours.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/** A base map, in the real program and a real browser, from a server of the test's own. */
let desk: OpenDesk
let page: Page
beforeAll(async () => {
  desk = await openDesk()
  page = desk.page
  await page.keyboard.press('k')
})
afterAll(() => desk?.close())

const map = (): Locator => page.getByTestId('map')

/** Nothing is left on the map but what lies below all. */
async function everythingElseOff(): Promise<void> {
  const boxes = page.getByRole('region', { name: 'Layers' }).getByRole('checkbox')
  for (const box of await boxes.all()) await box.uncheck()
}

interface TileServer {
  readonly origin: string
  /** The paths that were asked for. */
  readonly wanted: string[]
  close(): void
}

/** Capabilities of a WMTS with one layer in web mercator, as the OGC standard 07-057r7 has them. */
function capabilities(origin: string): string {
  const matrices = Array.from({ length: 20 }, (_, zoom) => {
    const scale = 559_082_264.028_717_8 / 2 ** zoom
    return `<TileMatrix><ows:Identifier>${zoom}</ows:Identifier><ScaleDenominator>${scale}</ScaleDenominator><TopLeftCorner>-20037508.342789244 20037508.342789244</TopLeftCorner><TileWidth>256</TileWidth><TileHeight>256</TileHeight><MatrixWidth>${2 ** zoom}</MatrixWidth><MatrixHeight>${2 ** zoom}</MatrixHeight></TileMatrix>`
  })
  return `<?xml version="1.0"?><Capabilities xmlns="http://www.opengis.net/wmts/1.0" xmlns:ows="http://www.opengis.net/ows/1.1" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.0.0"><Contents><Layer><ows:Title>Squares</ows:Title><ows:Identifier>squares</ows:Identifier><Style isDefault="true"><ows:Identifier>plain</ows:Identifier></Style><Format>image/png</Format><TileMatrixSetLink><TileMatrixSet>mercator</TileMatrixSet></TileMatrixSetLink><ResourceURL format="image/png" resourceType="tile" template="${origin}/{TileMatrix}/{TileCol}/{TileRow}.png"/></Layer><TileMatrixSet><ows:Identifier>mercator</ows:Identifier><ows:SupportedCRS>urn:ogc:def:crs:EPSG::3857</ows:SupportedCRS>${matrices.join('')}</TileMatrixSet></Contents></Capabilities>`
}

/** Tiles whose colour tells where they are: red where column and row are both even or both odd, else blue. */
async function tileServer(): Promise<TileServer> {
  const wanted: string[] = []
  const tile = (red: number, blue: number) => picture(256, 256, () => [red, 30, blue])
  const [even, odd] = await Promise.all([tile(200, 30), tile(30, 200)])
  const server = http.createServer((request, reply) => {
    const asked = request.url ?? ''
    wanted.push(asked)
    const [, , x = '0', y = '0'] = asked.replace('.png', '').split('/')
    const described = asked.startsWith('/wmts')
    const type = described ? 'text/xml' : 'image/png'
    reply.writeHead(200, { 'content-type': type, 'access-control-allow-origin': '*' })
    reply.end(described ? capabilities(origin) : (Number(x) + Number(y)) % 2 === 0 ? even : odd)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  return {
    origin,
    wanted,
    close: () => {
      server.closeAllConnections()
      server.close()
    },
  }
}

const policy = (): Promise<string> =>
  page.evaluate(async () => (await fetch('/')).headers.get('content-security-policy') ?? '')

async function addMap(name: string, address: string): Promise<void> {
  const form = page.getByText('Add a base map')
  if (!(await page.getByLabel('Name of the map').isVisible())) await form.click()
  await page.getByLabel('Name of the map').fill(name)
  await page.getByLabel('Address').fill(address)
  await page.getByLabel('Whose map it is').fill('© Nobody in particular')
  await page.getByRole('button', { name: 'Add it, without showing it' }).click()
  await page.getByRole('button', { name: `Show ${name}` }).waitFor()
}

test('a base map asks no other server until it is shown, then its own alone, and lies where it should', async () => {
  const { origin, wanted, close } = await tileServer()
  try {
    expect(await policy()).not.toMatch(/https?:/)
    await addMap('Chequers', `${origin}/{z}/{x}/{y}.png`)
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
    close()
  }
})

test('a WMTS is found by its capabilities, and lies where it should too', async () => {
  const { origin, wanted, close } = await tileServer()
  try {
    await addMap('Squares', `${origin}/wmts?request=GetCapabilities`)
    await page.getByRole('button', { name: 'Show Squares' }).click()
    await page.getByRole('button', { name: 'Hide Squares' }).waitFor()
    await everythingElseOff()
    await expect.poll(() => wanted.some((asked) => asked.endsWith('.png')), { timeout: 15_000 }).toBe(true)
    await expectBaseMapInPlace(wanted)
    await page.getByRole('button', { name: 'Remove Squares' }).click()
    await expect.poll(() => page.getByText('Squares').count()).toBe(0)
    expect(await policy()).not.toMatch(/https?:/)
  } finally {
    close()
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

test('nothing went wrong on the way', () => expect(desk.complaints).toEqual([]))
