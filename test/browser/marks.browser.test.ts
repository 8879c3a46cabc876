import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Mark, Target } from '#contract'
import { importFiles } from '#service'
import { ringPicture } from '../service/pictures.ts'
import { expectNoBarrier } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'
import { differingShare, mapMiddle, settledMiddle } from './picture.ts'

/**
 * Marks in the real program and a real browser, on two pictures of the same ground with a ring on one of them and a pit on the other: drawn, gone
 * through by key, dragged, made a target, undone. The tests are steps of one story, in order.
 */
let desk: OpenDesk
let page: Page

async function twoPictures(home: string): Promise<void> {
  const ring = { east: 100, north: 75, diameterM: 24, ditchM: 2, grey: 60 }
  // A ditch as wide as the circle is across fills it: a dark spot of 5 m.
  const spot = { east: 60, north: 40, diameterM: 2.5, ditchM: 2.5, grey: 90 }
  const pictures = await Promise.all([ringPicture(home, 'dry', [ring]), ringPicture(home, 'wet', [spot])])
  const endings = ['png', 'pgw', 'prj']
  const files = pictures.flatMap((file) => endings.map((ending) => file.replace(/png$/, ending)))
  const { files: replies } = await importFiles(path.join(home, 'mrk.gpkg'), files)
  expect(replies.flatMap(({ faults }) => faults)).toEqual([])
}

beforeAll(async () => {
  desk = await openDesk({ before: twoPictures })
  page = desk.page
})
afterAll(() => desk?.close())

const marks = () => asked<Mark[]>(page, '/api/marks')

/** What the page says of the place under the pointer at a point of the screen. */
async function placeAt(x: number, y: number): Promise<readonly [easting: number, northing: number]> {
  await page.mouse.move(x, y, { steps: 3 })
  const read = async (): Promise<string> => (await page.getByTestId('readout-pair').textContent()) ?? ''
  let [before, now] = ['', await read()]
  while (now !== before) {
    await page.waitForTimeout(250)
    ;[before, now] = [now, await read()]
  }
  const [easting = 0, northing = 0] = now
    .replaceAll(/\s/g, '')
    .split(',')
    .map((part) => Number.parseFloat(part))
  return [easting, northing]
}

/** Where a place of the ground is on the screen, by the page's own figures at two points far apart. */
async function onScreen(easting: number, northing: number): Promise<{ x: number; y: number }> {
  const box = (await page.getByTestId('map').boundingBox())!
  const [x0, y0, reach] = [box.x + box.width / 2, box.y + box.height / 2, 260]
  const [west, north] = await placeAt(x0 - reach, y0 - reach)
  const [east, south] = await placeAt(x0 + reach, y0 + reach)
  const pixels = (2 * reach) / (east - west)
  return { x: x0 + (easting - (west + east) / 2) * pixels, y: y0 - (northing - (north + south) / 2) * pixels }
}

const middle = { easting: 558_500, northing: 347_475 }

test('a ring is drawn on the map by its middle and its rim', async () => {
  await page.keyboard.press('k')
  await page.getByRole('heading', { name: 'Draw a mark by hand' }).waitFor()
  await expectNoBarrier(page, 'Marks without marks')
  await page.getByRole('button', { name: 'Ring', exact: true }).click()
  const at = await onScreen(middle.easting, middle.northing)
  const rim = await onScreen(middle.easting + 12, middle.northing)
  await page.mouse.click(at.x, at.y)
  await page.mouse.move(rim.x, rim.y, { steps: 5 })
  await page.mouse.click(rim.x, rim.y)
  await expect.poll(async () => (await marks()).length).toBe(1)
  const [mark] = await marks()
  expect(mark).toMatchObject({ kind: 'ring', state: 'accepted', madeBy: 'hand' })
  // The figures of the pointer are told to a tenth of a metre.
  expect(Math.hypot(mark!.easting - middle.easting, mark!.northing - middle.northing)).toBeLessThan(1)
  expect(Math.abs(mark!.diameterM! - 24)).toBeLessThan(1)
})

test('it opens large, with the same spot on both pictures', async () => {
  const picture = page.getByTestId('mark-picture').locator('img')
  await expect.poll(() => picture.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBe(256)
  const strip = page.getByTestId('mark-strip').getByRole('button')
  expect(await strip.count()).toBe(2)
  const before = await picture.getAttribute('src')
  await strip.nth(1).click()
  await strip.nth(0).click()
  const sources = await page
    .getByTestId('mark-strip')
    .locator('img')
    .evaluateAll((images) =>
      images.map((image) => new URL((image as HTMLImageElement).src).searchParams.get('layer')),
    )
  expect(new Set(sources).size).toBe(2)
  expect(before).toContain('/chip.png')
  await page.getByRole('heading', { name: 'What it may be' }).waitFor()
  await page.getByText('mound of a windmill').waitFor()
})

test.each(['light', 'dark'] as const)(
  'nothing about an open mark shuts anybody out (%s)',
  async (colorScheme) => {
    await page.emulateMedia({ colorScheme })
    await expectNoBarrier(page, 'an open mark')
  },
)

test('one key rejects, the same again takes it back, and Undo takes that back', async () => {
  const pressed = (name: string): Promise<string | null> =>
    page.getByRole('button', { name, exact: true }).getAttribute('aria-pressed')
  const state = async (): Promise<string | undefined> => (await marks())[0]?.state
  await page.getByTestId('map').focus()
  await page.keyboard.press('r')
  await expect.poll(() => pressed('Reject')).toBe('true')
  expect(await state()).toBe('rejected')
  await page.keyboard.press('r')
  await expect.poll(() => pressed('Reject')).toBe('false')
  expect(await state()).toBe('candidate')
  await page.keyboard.press('u')
  await expect.poll(() => pressed('Unsure')).toBe('true')
  await page.keyboard.press('Control+z')
  await expect.poll(() => pressed('Unsure')).toBe('false')
  expect(await state()).toBe('candidate')
})

test('it is moved and resized by its handles, and by numbers', async () => {
  const [before] = await marks()
  const from = await onScreen(before!.easting, before!.northing)
  const to = await onScreen(before!.easting + 6, before!.northing)
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move(to.x, to.y, { steps: 8 })
  await page.mouse.up()
  await expect.poll(async () => Math.abs((await marks())[0]!.easting - before!.easting - 6)).toBeLessThan(0.6)
  const moved = (await marks())[0]!
  const rim = await onScreen(moved.easting, moved.northing + moved.diameterM! / 2)
  const wider = await onScreen(moved.easting, moved.northing + moved.diameterM! / 2 + 3)
  await page.mouse.move(rim.x, rim.y)
  await page.mouse.down()
  await page.mouse.move(wider.x, wider.y, { steps: 8 })
  await page.mouse.up()
  await expect
    .poll(async () => Math.abs((await marks())[0]!.diameterM! - moved.diameterM! - 6))
    .toBeLessThan(1)
  const field = page.getByRole('textbox', { name: /^Diameter/ })
  const shown = async (): Promise<number> => Number(await field.inputValue())
  const resized = (await marks())[0]!.diameterM!
  await expect.poll(async () => Math.abs((await shown()) - resized)).toBeLessThan(0.01)
  await field.fill('18')
  await field.press('Enter')
  await expect.poll(async () => (await marks())[0]!.diameterM).toBe(18)
  const note = page.getByRole('textbox', { name: 'Note' })
  await note.fill('clear on the dry one')
  await note.blur()
  await expect.poll(async () => (await marks())[0]!.note).toBe('clear on the dry one')
})

test('it is drawn on the map: without marks the map looks otherwise', async () => {
  await page.keyboard.press('Escape')
  await page.getByTestId('marks-list').waitFor()
  const box = page.getByRole('region', { name: 'Layers' }).getByRole('checkbox', { name: 'Marks' })
  await page.mouse.move(5, 5)
  const shown = await settledMiddle(page)
  await box.uncheck()
  await expect.poll(async () => differingShare(shown, await mapMiddle(page))).toBeGreaterThan(0.0005)
  await box.check()
  await expect.poll(async () => differingShare(shown, await mapMiddle(page))).toBeLessThan(0.0005)
})

test('a target is made of it, named anew, and taken back by Undo', async () => {
  await page.getByRole('button', { name: 'Go through them, one by one' }).click()
  await page.getByRole('button', { name: 'Make target' }).click()
  const targets = () => asked<Target[]>(page, '/api/targets')
  await expect.poll(async () => (await targets()).length).toBe(1)
  const [mark] = await marks()
  expect((await targets())[0]).toMatchObject({ markId: mark!.id, easting: mark!.easting })
  await page.getByRole('button', { name: 'All marks and pictures' }).click()
  await page.getByRole('button', { name: 'Change the target Ring 1' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill('Mill mound')
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByTestId('target-list').getByText('Mill mound').waitFor()
  await expectNoBarrier(page, 'marks and targets')
  await page.keyboard.press('Control+z')
  await page.getByTestId('target-list').getByText('Ring 1').waitFor()
})

test('a search knows the ring that was drawn, and a rejected one does not come back', async () => {
  const [drawn] = await marks()
  const ring = await page.evaluate(
    async ({ id, place }) => {
      const headers = { 'content-type': 'application/json', 'x-lynchet': '1' }
      const patch = { ...place, diameterM: 24, state: 'rejected' }
      const reply = await fetch(`/api/marks/${id}`, { method: 'PATCH', headers, body: JSON.stringify(patch) })
      return reply.status
    },
    { id: drawn!.id, place: middle },
  )
  expect(ring).toBe(200)
  await page.getByRole('combobox', { name: 'On', exact: true }).selectOption({ label: 'dry.png' })
  await page.getByRole('textbox', { name: 'Diameter from' }).fill('15')
  await page.getByRole('button', { name: 'Look for rings' }).click()
  const outcome = page.getByText(/^Dry\.png: /)
  await outcome.waitFor({ timeout: 60_000 })
  expect(await outcome.textContent()).toContain('1 known before, 1 of them rejected and left so')
  const now = await marks()
  const there = now.filter(
    ({ easting, northing }) => Math.hypot(easting - middle.easting, northing - middle.northing) < 6,
  )
  expect(there).toMatchObject([{ id: drawn!.id, state: 'rejected', madeBy: 'hand', diameterM: 24 }])
})

test('pits are looked for by sizes of their own, gone through by key, and a rejected one does not come back', async () => {
  const spot = { easting: 558_460, northing: 347_440 }
  const pits = async (): Promise<Mark[]> => (await marks()).filter(({ kind }) => kind === 'pit')
  const search = async (): Promise<string | null> => {
    await page.getByRole('button', { name: 'Look for pits' }).click()
    const outcome = page.getByText(/^Wet\.png: /)
    await outcome.waitFor({ timeout: 60_000 })
    return outcome.textContent()
  }
  await page.getByRole('combobox', { name: 'Look for', exact: true }).selectOption({ label: 'Pits' })
  await page.getByRole('combobox', { name: 'On', exact: true }).selectOption({ label: 'wet.png' })
  const least = page.getByRole('textbox', { name: 'Diameter from' })
  expect(await least.inputValue()).toBe('1')
  await page.getByText('This picture shows none below 2 m').waitFor()
  await least.fill('2')
  expect(await search()).toMatch(/new\.$/)
  expect(await page.getByRole('combobox', { name: 'Kind' }).inputValue()).toBe('pit')
  await page.getByRole('button', { name: 'Go through them, one by one' }).click()
  await page.getByRole('heading', { name: /^Pit \d/ }).waitFor()
  await page
    .getByText('pit for storing or for rubbish')
    .or(page.getByText('building with a sunken floor'))
    .waitFor()
  await expectNoBarrier(page, 'an open pit')
  await page.getByTestId('map').focus()
  await page.keyboard.press('r')
  await expect.poll(async () => (await pits()).filter(({ state }) => state === 'rejected').length).toBe(1)
  const rejected = (await pits()).find(({ state }) => state === 'rejected')!
  expect(Math.hypot(rejected.easting - spot.easting, rejected.northing - spot.northing)).toBeLessThan(0.5)
  await page.keyboard.press('Escape')
  expect(await search()).toContain('1 of them rejected and left so')
  const there = (await pits()).filter(
    ({ easting, northing }) => Math.hypot(easting - spot.easting, northing - spot.northing) < 3,
  )
  expect(there).toMatchObject([{ id: rejected.id, state: 'rejected' }])
  await page.getByRole('combobox', { name: 'Kind' }).selectOption({ label: 'All kinds' })
})

test('a line is added by numbers, without a pointer', async () => {
  await page.getByRole('button', { name: 'Line', exact: true }).click()
  await page.getByText('By numbers').click()
  await page.getByRole('textbox', { name: /one place a line/ }).fill('558420 347420\n558450 347440')
  await page.getByRole('button', { name: 'Add the line' }).click()
  await expect.poll(async () => (await marks()).map(({ kind }) => kind)).toContain('line')
  await page.getByRole('heading', { name: /^Line \d/ }).waitFor()
})

test('at 390 x 844 nothing must be scrolled sideways', async () => {
  await page.setViewportSize({ width: 390, height: 844 })
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  await expectNoBarrier(page, 'an open mark, narrow')
  await page.setViewportSize({ width: 1440, height: 900 })
})

test('nothing went wrong that nobody told of', () => {
  expect(desk.complaints).toEqual([])
})
