import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { AreaView, SurveyView } from '#contract'
import { launchChromium } from './chromium.ts'
import { type RunningProgram, startProgram } from './lynchet-program.ts'

/** Going to places, measuring, and beginning a survey at a place, in the real program and a real browser; one story. */
const home = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
let browser: Browser
let context: BrowserContext
let page: Page
let program: RunningProgram
const complaints: string[] = []
/** Answers that a step expects not to be good. */
const expected: string[] = []

beforeAll(async () => {
  browser = await launchChromium()
  program = await startProgram(home)
  context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme: 'light' })
  page = await context.newPage()
  page.on('pageerror', (error) => complaints.push(`uncaught: ${error.stack ?? error.message}`))
  page.on('response', (reply) => {
    if (reply.status() >= 400 && !expected.some((part) => reply.url().includes(part))) {
      complaints.push(`${reply.status()} ${reply.url()}`)
    }
  })
  page.setDefaultTimeout(10_000)
  await page.goto(program.address)
  await page.getByTestId('survey-title').getByText('Ninestile').waitFor()
  const tour = page.getByTestId('tour').getByRole('button', { name: 'Close' })
  if (await tour.isVisible()) await tour.click()
})
afterAll(async () => {
  await browser?.close()
  await program?.stop()
  rmSync(home, { recursive: true, force: true })
})

const box = () => page.getByRole('search').getByRole('textbox').first()
async function goTo(text: string): Promise<void> {
  await box().fill(text)
  await box().press('Enter')
}
const survey = (): Promise<SurveyView> =>
  page.evaluate(async () => (await (await fetch('/api/survey')).json()) as SurveyView)

async function expectNoBarrier(what: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => `${what}: ${id} ${nodes[0]?.html}`)).toEqual([])
  }
}

test('a reference flies to the middle of its square, and a card tells it in other notations', async () => {
  await page.keyboard.press('/')
  await page.keyboard.type('TF 584 475')
  await page.keyboard.press('Enter')
  const card = page.getByTestId('place-card')
  await card.waitFor()
  expect((await card.textContent())?.replaceAll(/\s/g, '')).toContain('558450E,347550N')
  expect(await card.textContent()).toContain('square of 100')
  expect(await card.textContent()).toContain('31UCU228757')
  await expectNoBarrier('place')
})

test('what is no place is said in a sentence, and nothing moves', async () => {
  expected.push('/api/places?text=over')
  const before = await page.getByTestId('readout').textContent()
  await goTo('over there')
  await page.getByText('is no coordinate in a known notation').first().waitFor()
  expect(await page.getByTestId('readout').textContent()).toBe(before)
  await box().press('Escape')
})

test('two typed places are measured: 300 m east and 400 m north are 500 m on the grid', async () => {
  await page.getByRole('button', { name: 'Measure' }).click()
  const card = page.getByTestId('measure-card')
  await card.getByText('Places as text').click()
  await card.getByLabel('From').fill('558000 347000')
  await card.getByLabel('To', { exact: true }).fill('558300 347400')
  await card.getByRole('button', { name: 'Measure between them' }).click()
  await expect.poll(() => card.getByTestId('measure-grid').textContent()).toMatch(/^500(\.0)?\s*m$/)
  const text = await card.textContent()
  // atan(300 / 400) from grid north; grid north lies about 1.9 degrees east of true north there.
  expect(text).toMatch(/36\.9°/)
  expect(text).toMatch(/38\.7°/)
  expect(text).toContain('WMM2025')
  await expectNoBarrier('measure')
  await page.keyboard.press('Escape')
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
  const areas = (): Promise<AreaView[]> =>
    page.evaluate(async () => (await (await fetch('/api/areas')).json()) as AreaView[])
  await expect.poll(async () => (await areas()).length).toBe(1)
  const [east, north] = (await areas())[0]!.polygons[0]![0]![0]!
  expect(Math.abs(east - 558_400)).toBeLessThan(2000)
  expect(Math.abs(north - 347_500)).toBeLessThan(2000)
})

test('nothing was complained of', () => {
  expect(complaints).toEqual([])
})
