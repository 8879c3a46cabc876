import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { SurveyView } from '#contract'
import { expectNoBarrier } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'
import { differingShare, mapMiddle, settledMiddle } from './picture.ts'

/**
 * The main job, as a person does it, in the real program and a real browser: see the demo, make a survey, bring in a walk and
 * an outline, see what was covered and what was missed, come back to it. The tests are steps of one story, in order.
 */
let desk: OpenDesk
let page: Page

beforeAll(async () => {
  desk = await openDesk({ firstStart: true })
  page = desk.page
})
afterAll(() => desk?.close())

const figure = async (name: string): Promise<string> => (await page.getByTestId(name).textContent()) ?? ''
const numberIn = (text: string): number => Number.parseFloat(text.replaceAll(/[^\d.]/g, ''))
const share = async (): Promise<number> => numberIn(await figure('share-covered'))
const survey = () => asked<SurveyView>(page, '/api/survey')

/** Waits until the cover is made of what the survey now holds, and the page shows it. */
async function coverIsFresh(): Promise<SurveyView> {
  await expect.poll(async () => (await survey()).coverStale, { timeout: 20_000 }).toBe(false)
  const now = await survey()
  const shown = String(now.cover?.gaps.count ?? 'no cover')
  await expect.poll(() => figure('gap-count').then(numberIn), { timeout: 10_000 }).toBe(Number(shown))
  return now
}

/** Lets go of files over the middle of the page, as from a window beside it. */
async function drop(files: readonly { name: string; text: string }[]): Promise<void> {
  const held = await page.evaluateHandle((given) => {
    const data = new DataTransfer()
    for (const { name, text } of given) data.items.add(new File([text], name))
    return data
  }, files)
  for (const type of ['dragenter', 'dragover', 'drop']) {
    await page.dispatchEvent('main', type, { dataTransfer: held })
  }
}

async function stage(name: 'Land' | 'Marks' | 'Visits' | 'Finds'): Promise<void> {
  const button = page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name })
  if ((await button.getAttribute('aria-expanded')) !== 'true') await button.click()
}

test('the first start shows the demo field with its cover, gaps and findspots', async () => {
  const tiles: number[] = []
  page.on('response', (reply) => {
    if (reply.url().includes('/api/cover/')) tiles.push(reply.status())
  })
  await page.reload()
  await page.getByTestId('survey-title').getByText('Ninestile').waitFor()
  expect(new URL(page.url()).search).toBe('')
  const { cover, counts, demo } = await survey()
  expect(demo).toBe(true)
  expect(counts.findspots).toBeGreaterThan(0)
  expect(await share()).toBeGreaterThan(0)
  expect(numberIn(await figure('gap-count'))).toBe(cover?.gaps.count)
  expect(cover?.gaps.count).toBeGreaterThan(0)
  await expect.poll(() => tiles.length).toBeGreaterThan(0)
  expect(new Set(tiles)).toEqual(new Set([200]))
})

test.each(['Cover', 'Gaps', 'Tracks', 'Findspots', 'Areas'])(
  '%s are drawn on the map: without them it looks otherwise',
  async (name) => {
    const box = page.getByRole('region', { name: 'Layers' }).getByRole('checkbox', { name })
    const shown = await settledMiddle(page)
    await box.uncheck()
    // Half a thousandth of the picture: a dozen findspots or one outline change more than that.
    await expect.poll(async () => differingShare(shown, await mapMiddle(page))).toBeGreaterThan(0.0005)
    await box.check()
    await expect.poll(async () => differingShare(shown, await mapMiddle(page))).toBeLessThan(0.0005)
  },
)

test.each(['light', 'dark'] as const)('nothing on the page shuts anybody out (%s)', async (colorScheme) => {
  await page.emulateMedia({ colorScheme })
  await expectNoBarrier(page, 'first look')
  for (const name of ['Land', 'Marks', 'Finds', 'Visits'] as const) {
    await stage(name)
    await expectNoBarrier(page, name)
  }
  for (const button of ['Other surveys', 'Export']) {
    await page.getByRole('button', { name: button }).click()
    await page.getByRole('dialog').waitFor()
    await expectNoBarrier(page, button)
    await page.keyboard.press('Escape')
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
  }
})

test.each([
  [1440, 900],
  [390, 844],
])('at %i x %i nothing must be scrolled sideways', async (width, height) => {
  await page.setViewportSize({ width, height })
  for (const name of ['Land', 'Marks', 'Finds', 'Visits'] as const) {
    await stage(name)
    const wide = await page.evaluate(() => document.documentElement.scrollWidth)
    expect(wide).toBeLessThanOrEqual(width)
    const beyond = await page.evaluate(() =>
      [...document.querySelectorAll('button, input, h1, h2')]
        .filter((part) => part.checkVisibility({ visibilityProperty: true }))
        .filter((part) => part.getBoundingClientRect().left > innerWidth)
        .map((part) => part.outerHTML.slice(0, 80)),
    )
    expect(beyond).toEqual([])
  }
  // Wide, the stages have been looked at above.
  if (width < 1440) await expectNoBarrier(page, `${width} pixels wide`)
})

test.each(['light', 'dark'] as const)(
  'the page of looks stands by itself, wide and narrow (%s)',
  async (colorScheme) => {
    const looks = await desk.newPage()
    await looks.emulateMedia({ colorScheme })
    await looks.goto(`${new URL(page.url()).origin}/looks`)
    await looks.getByRole('heading', { level: 1 }).first().waitFor()
    await expectNoBarrier(looks, 'looks')
    for (const width of [1440, 390]) {
      await looks.setViewportSize({ width, height: 844 })
      expect(await looks.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width)
    }
    await looks.close()
  },
)

/** From fixtures/formats/gpx (its SOURCE.md): 42 fixes, 125.386 m by PROJ's geod on the WGS84 ellipsoid. */
const gpxName = 'run_gpxtpx.gpx'
const gpx = readFileSync(new URL(`../../fixtures/formats/gpx/togeojson/${gpxName}`, import.meta.url), 'utf8')
const lengthM = 125.386

/** The walk's bounds, some 5 m wider on each side, as a polygon. */
function outlineAround(text: string): string {
  const values = (name: string): number[] =>
    [...text.matchAll(new RegExp(`<trkpt[^>]*\\b${name}="([-\\d.]+)"`, 'g'))].map((match) => Number(match[1]))
  const [west, east] = [Math.min(...values('lon')) - 0.00005, Math.max(...values('lon')) + 0.00005]
  const [south, north] = [Math.min(...values('lat')) - 0.00005, Math.max(...values('lat')) + 0.00005]
  const ring = [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ]
  const geometry = { type: 'Polygon', coordinates: [ring] }
  return JSON.stringify({ type: 'Feature', properties: { name: 'Around the walk' }, geometry })
}

test('a new survey is made, and is empty', async () => {
  await page.setViewportSize({ width: 1440, height: 900 })
  await page.emulateMedia({ colorScheme: 'light' })
  await page.getByRole('button', { name: 'Other surveys' }).click()
  await page.getByRole('button', { name: 'New survey' }).click()
  await page.getByLabel('Title').fill('Long Ground')
  await page.getByLabel('Code').fill('LNG')
  await page.getByRole('button', { name: 'Make the survey' }).click()
  await page.getByTestId('survey-title').getByText('Long Ground').waitFor()
  await stage('Visits')
  await page.getByText('No track yet').waitFor()
  const { demo, counts, cover, grid } = await survey()
  expect({ demo, cover, grid, tracks: counts.tracks }).toEqual({
    demo: false,
    cover: null,
    grid: null,
    tracks: 0,
  })
})

test('a walk is dropped on the page, and said to have come in', async () => {
  await drop([{ name: gpxName, text: gpx }])
  await page.getByTestId('import-summary').getByText('1 track with 42 fixes').waitFor()
  await page.getByText('No search area yet').waitFor()
  const { grid, counts } = await survey()
  expect(counts).toMatchObject({ tracks: 1, fixes: 42, areas: 0 })
  expect(grid?.epsg).toBe(32610)
})

test('an outline is dropped, and the share covered and the gaps are shown', async () => {
  await drop([{ name: 'outline.geojson', text: outlineAround(gpx) }])
  await page.getByTestId('import-summary').getByText('1 search area').waitFor()
  await page.getByTestId('share-covered').waitFor({ timeout: 20_000 })
  const { cover, settings } = await coverIsFresh()
  expect(await share()).toBeCloseTo((cover?.coveredShare ?? 0) * 100, 0)
  expect(cover?.gaps.count).toBeGreaterThan(0)
  // The walk's length by another program: UTM is at most 0.1 % off it here. The strip cannot cover more than its length
  // times its width with a round end, and this walk crosses itself little.
  expect(cover?.distanceM).toBeGreaterThan(lengthM * 0.998)
  expect(cover?.distanceM).toBeLessThan(lengthM * 1.002)
  const most = lengthM * settings.swathM + Math.PI * (settings.swathM / 2) ** 2
  expect(cover?.coveredM2).toBeLessThan(most * 1.005)
  expect(cover?.coveredM2).toBeGreaterThan(most * 0.9)
})

test('a wider swath covers more', async () => {
  const before = await share()
  const swath = page.getByLabel('Swath width')
  await swath.fill('3')
  await swath.press('Enter')
  await expect.poll(share, { timeout: 20_000 }).toBeGreaterThan(before * 1.6)
  await coverIsFresh()
  expect(await share()).toBeLessThan(before * 2.05)
})

test('an area drawn on the map adds ground that was missed, and Undo takes it back', async () => {
  const before = await coverIsFresh()
  const sharedBefore = await share()
  await stage('Land')
  await page.getByRole('button', { name: 'Draw a search area' }).click()
  const box = await page.getByTestId('map').boundingBox()
  if (!box) throw new Error('the map is not shown')
  // To the right of the outline, which the map has in its middle.
  for (const [right, down] of [
    [0.72, 0.4],
    [0.85, 0.4],
    [0.85, 0.7],
    [0.72, 0.7],
  ] as const) {
    await page.mouse.click(box.x + box.width * right, box.y + box.height * down, { delay: 20 })
    await page.waitForTimeout(400)
  }
  await page.getByRole('button', { name: 'Close the outline' }).click()
  await page.getByLabel('Name').fill('Drawn by hand')
  await page.getByRole('button', { name: 'Save the area' }).click()
  await page.getByRole('button', { name: 'Change Drawn by hand' }).waitFor()
  await stage('Visits')
  const after = await coverIsFresh()
  expect(after.counts.areas).toBe(2)
  expect(after.cover?.gaps.count).toBe((before.cover?.gaps.count ?? 0) + 1)
  expect(await share()).toBeLessThan(sharedBefore)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(async () => (await survey()).counts.areas).toBe(1)
})

test('findspots are dropped as a table, beside files that are there already', async () => {
  const table =
    'name,lat,lon,object\nfirst,37.78375,-122.4078,buckle\nsecond,37.7839,-122.408,thimble\nthird,,,token\n'
  await drop([
    { name: 'finds.csv', text: table },
    { name: 'again.gpx', text: gpx },
  ])
  const summary = page.getByTestId('import-summary')
  await summary.getByText('2 findspots').waitFor()
  await summary.getByText('Was in the survey already').waitFor()
  const notUnderstood = summary.getByRole('list', { name: 'Not understood in finds.csv' })
  expect(await notUnderstood.textContent()).toContain('Line 4')
  await stage('Finds')
  await page.getByText('buckle').first().waitFor()
  expect((await survey()).counts).toMatchObject({ tracks: 1, findspots: 2, finds: 2 })
  await stage('Visits')
})

test('a file of nonsense is refused in a sentence, and nothing is lost', async () => {
  const before = (await survey()).counts
  await drop([{ name: 'nonsense.gpx', text: '\u0000\u0001 not a track \u0002' }])
  const summary = page.getByTestId('import-summary')
  await summary.getByText('nonsense.gpx').first().waitFor()
  await summary.getByRole('list', { name: 'Not understood in nonsense.gpx' }).waitFor()
  expect((await survey()).counts).toEqual(before)
})

test('the gaps are exported as a file', async () => {
  await page.getByRole('button', { name: 'Export' }).click()
  await page.getByRole('radio', { name: 'Gaps' }).check()
  await page.getByRole('radio', { name: 'GeoJSON' }).check()
  const coming = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save the file' }).click()
  const file = await coming
  expect(file.suggestedFilename()).toMatch(/gaps.*\.geojson$/)
  const written = JSON.parse(readFileSync(await file.path(), 'utf8')) as { features: unknown[] }
  expect(written.features).toHaveLength((await survey()).cover?.gaps.count ?? -1)
})

/** What must be the same when one comes back. */
async function held(): Promise<unknown> {
  const { file, title, counts, settings, cover } = await coverIsFresh()
  return { file, title, counts, settings, cover, share: await share(), gaps: await figure('gap-count') }
}

test('a reloaded page shows the same', async () => {
  await expect.poll(async () => (await survey()).coverStale, { timeout: 20_000 }).toBe(false)
  const before = await held()
  await page.reload()
  await page.getByTestId('survey-title').getByText('Long Ground').waitFor()
  expect(await held()).toEqual(before)
})

test('closed and opened again, all is there', async () => {
  const before = await held()
  expect(await desk.restart()).toBe(0)
  await page.getByTestId('survey-title').getByText('Long Ground').waitFor()
  expect(await held()).toEqual(before)
})

test('nothing was complained of in the console, and no request failed', () => {
  expect(desk.complaints).toEqual([])
})
