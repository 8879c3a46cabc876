import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { AreaView, SurveyView } from '#contract'
import { expectNoBarrierInLooks } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/** Going to places, measuring, and beginning a survey at a place, in the real program and a real browser; one story. */
let desk: OpenDesk
let page: Page

beforeAll(async () => {
  desk = await openDesk()
  page = desk.page
})
afterAll(() => desk?.close())

const box = () => page.getByRole('search').getByRole('textbox').first()
async function goTo(text: string): Promise<void> {
  await box().fill(text)
  await box().press('Enter')
}
const survey = () => asked<SurveyView>(page, '/api/survey')

/** Easting and northing at the middle of the map, which the readout shows while no pointer is over it. */
async function middle(): Promise<readonly [number, number]> {
  await page.mouse.move(5, 5)
  const text = (await page.getByTestId('readout-pair').textContent()) ?? ''
  const [easting = Number.NaN, northing = Number.NaN] = text
    .split(',')
    .map((part) => Number(part.replaceAll(/[^\d.-]/g, '')))
  return [easting, northing]
}
const numberIn = (text: string | null): number => Number((text ?? '').replaceAll(/[^\d.]/g, ''))

const expectNoBarrier = (what: string): Promise<void> => expectNoBarrierInLooks(page, what)

test('a reference flies to the middle of its square, and a card tells it in other notations', async () => {
  await page.keyboard.press('/')
  await page.keyboard.type('TF 590 480')
  await page.keyboard.press('Enter')
  const card = page.getByTestId('place-card')
  await card.getByText('TF 590 480').first().waitFor()
  // 100 m square from 559000, 348000; the card and the legend leave the middle of the map a little beside it.
  await expect.poll(async () => Math.abs((await middle())[0] - 559_050)).toBeLessThan(300)
  await expect.poll(async () => Math.abs((await middle())[1] - 348_050)).toBeLessThan(2)
  await goTo('TF 584 475')
  await card.getByText('TF 584 475').first().waitFor()
  expect((await card.textContent())?.replaceAll(/\s/g, '')).toContain('558450E,347550N')
  expect(await card.textContent()).toContain('square of 100')
  expect(await card.textContent()).toContain('31UCU228757')
  await expectNoBarrier('place')
})

test('what is no place is said in a sentence, and nothing moves', async () => {
  desk.expected.push('/api/places?text=over')
  const before = await middle()
  await goTo('over there')
  await page.getByTestId('place-fault').getByText('is no coordinate in a known notation').waitFor()
  expect(await middle()).toEqual(before)
  await box().press('Escape')
  await page.getByTestId('place-fault').waitFor({ state: 'detached' })
  expect(await box().inputValue()).toBe('')
})

test('a place beyond the survey’s grid is told with its coordinates, and the map stays', async () => {
  const before = await middle()
  await goTo('48.8584, 2.2945')
  const card = page.getByTestId('place-card')
  await card.getByText('outside the survey’s grid').waitFor()
  expect(await card.textContent()).toContain('48.85840 N, 2.29450 E')
  expect(await middle()).toEqual(before)
  await box().press('Escape')
  await card.waitFor({ state: 'detached' })
})

test('two typed places are measured: 300 m east and 400 m north are 500 m on the grid', async () => {
  await page.getByRole('button', { name: 'Measure' }).click()
  const card = page.getByTestId('measure-card')
  await card.getByText('Places as text').click()
  await card.getByLabel('From').fill('558000 347000')
  await card.getByLabel('To', { exact: true }).fill('558300 347400')
  await card.getByRole('button', { name: 'Measure between them' }).click()
  await expect.poll(() => card.getByTestId('measure-grid').textContent()).toMatch(/^500\.0\s*m$/)
  // Scale factor 0.9996 (1 + (E - 400 km)^2 / 2 R^2) at 558 km E, by A guide to coordinate systems in Great Britain, is
  // 0.99991: 500 m on the grid are 500.04 m on the ground. The card tells decimetres.
  expect(
    Math.abs(numberIn(await card.getByTestId('measure-ground').textContent()) - 500 / 0.999_91),
  ).toBeLessThan(0.06)
  const text = await card.textContent()
  // atan(300 / 400) from grid north; grid north lies about 1.9 degrees east of true north there.
  expect(text).toMatch(/36\.9°/)
  expect(text).toMatch(/38\.7°/)
  expect(text).toContain('WMM2025')
  await expectNoBarrier('measure')
  await page.keyboard.press('Escape')
})

test('clicked points make a figure with area and perimeter; Enter closes it, Escape ends', async () => {
  await page.keyboard.press('Escape')
  await page.keyboard.press('m')
  const card = page.getByTestId('measure-card')
  const map = await page.getByTestId('map').boundingBox()
  if (!map) throw new Error('the map is not shown')
  for (const [right, down] of [
    [0.5, 0.5],
    [0.7, 0.5],
    [0.7, 0.8],
  ] as const) {
    await page.mouse.click(map.x + map.width * right, map.y + map.height * down, { delay: 20 })
    await page.waitForTimeout(400)
  }
  const plainLength = numberIn(await card.getByTestId('measure-grid').textContent())
  await page.keyboard.press('Enter')
  await card.getByText('Perimeter').waitFor()
  await expect
    .poll(async () => numberIn(await card.getByTestId('measure-grid').textContent()))
    .toBeGreaterThan(plainLength)
  // Two sides at a right angle and the line between their ends.
  const legs = await card
    .getByRole('row')
    .evaluateAll((rows) => rows.slice(1).map((row) => row.lastElementChild?.textContent ?? ''))
  const [a = 0, b = 0, c = 0] = legs.map(numberIn)
  expect(Math.abs(Math.hypot(a, b) - c)).toBeLessThan(0.3)
  const area = (await card.getByTestId('measure-area').textContent()) ?? ''
  const squareMetres = numberIn(area.replace('m²', '')) * (area.includes('ha') ? 10_000 : 1)
  expect(Math.abs(squareMetres / ((a * b) / 2) - 1)).toBeLessThan(0.02)
  await page.keyboard.press('Escape')
  await card.waitFor({ state: 'detached' })
})

test('on a narrow page the box is behind one button, and the cards take the panel’s place', async () => {
  await page.setViewportSize({ width: 390, height: 844 })
  await page.getByRole('button', { name: 'Go to a place' }).click()
  await goTo('TF 5845 4752')
  await page.getByTestId('place-card').getByText('TF 5845 4752').first().waitFor()
  await page.getByRole('button', { name: 'Measure' }).click()
  await page.getByTestId('measure-card').waitFor()
  await expectNoBarrier('narrow')
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  await page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name: 'Finds' }).click()
  await page.getByTestId('finds-table').waitFor()
  await page.keyboard.press('Escape')
  await page.keyboard.press('Escape')
  await page.setViewportSize({ width: 1440, height: 900 })
})

test('the landowner’s report is saved as a PDF', async () => {
  await page.getByRole('button', { name: 'Export' }).click()
  await page.getByLabel('Landowner’s report').check()
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: /^Save/ }).click(),
  ])
  expect(file.suggestedFilename()).toMatch(/landowner\.pdf$/)
  expect(
    readFileSync(await file.path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-')
})

test('an empty survey begins at a place: its grid is set and an area can be drawn there', async () => {
  await page.getByRole('button', { name: 'Other surveys' }).click()
  await page.getByRole('button', { name: 'New survey' }).click()
  await page.getByLabel('Title').fill('Long Bank')
  await page.getByLabel('Code').fill('LNB')
  await page.getByRole('button', { name: 'Make the survey' }).click()
  await page.getByTestId('survey-title').getByText('Long Bank').waitFor()
  const begin = page.getByRole('region', { name: 'Begin the survey' })
  await begin.getByRole('textbox').fill('TF 58400 47500')
  await begin.getByRole('textbox').press('Enter')
  await expect.poll(async () => (await survey()).grid?.epsg).toBe(27_700)
  await expect.poll(() => page.getByTestId('readout').textContent(), { timeout: 10_000 }).toMatch(/TF 58[34]/)
  await page.waitForTimeout(1500)
  // Going to the place opens the stage where areas are drawn.
  await page.getByRole('button', { name: 'Draw a search area' }).first().click()
  const map = await page.getByTestId('map').boundingBox()
  if (!map) throw new Error('the map is not shown')
  for (const [right, down] of [
    [0.4, 0.4],
    [0.6, 0.4],
    [0.6, 0.6],
  ] as const) {
    await page.mouse.click(map.x + map.width * right, map.y + map.height * down, { delay: 20 })
    await page.waitForTimeout(400)
  }
  await page.getByRole('button', { name: 'Close the outline' }).click()
  await page.getByLabel('Name').fill('Drawn at a place')
  await page.getByRole('button', { name: 'Save the area' }).click()
  const areas = () => asked<AreaView[]>(page, '/api/areas')
  await expect.poll(async () => (await areas()).length).toBe(1)
  const [east, north] = (await areas())[0]!.polygons[0]![0]![0]!
  expect(Math.abs(east - 558_400)).toBeLessThan(2000)
  expect(Math.abs(north - 347_500)).toBeLessThan(2000)
})

test('nothing was complained of', () => {
  expect(desk.complaints).toEqual([])
})
