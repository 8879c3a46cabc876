import type { Page } from 'playwright-core'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { ChancesView, FindspotView, FindView, Visit } from '#contract'
import { expectNoBarrierInLooks } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/** Visits in the real program and a real browser, on the demo survey; one story. */
let desk: OpenDesk
let page: Page

beforeAll(async () => {
  desk = await openDesk()
  page = desk.page
})
afterAll(() => desk?.close())

const visits = () => asked<Visit[]>(page, '/api/visits')
const chances = () => asked<ChancesView | null>(page, '/api/visits/chances')

test('the walks of the demo stand as visits by day; one opens with its figures and plots', async () => {
  const list = await visits()
  expect(list.length).toBeGreaterThan(1)
  expect(list.every(({ tracks }) => tracks.length > 0)).toBe(true)
  await page.getByTestId('visit-list').getByRole('button').first().press('Enter')
  const card = page.getByTestId('visit-card')
  await card.getByTestId('visit-distance').waitFor()
  expect(await card.getByTestId('visit-too-fast').textContent()).toMatch(/^[\d.]+\s?(m|km)$/)
  await card.getByRole('img', { name: /^Walking speed/ }).waitFor()
  await card.getByRole('img', { name: /^Ground covered/ }).waitFor()
}, 120_000)

test('a visit takes its person, coil and sweeps by keyboard, and Undo takes them back one by one', async () => {
  const card = page.getByTestId('visit-card')
  await card.getByRole('textbox', { name: /^Coil/ }).fill('')
  await card.getByRole('textbox', { name: /^Coil/ }).press('Enter')
  await card.getByText('give coil and sweeps a second').waitFor()
  expect(await card.getByTestId('visit-too-fast').textContent()).toBe('–')
  await card.getByRole('textbox', { name: /^Person/ }).fill('Ann')
  await card.getByRole('textbox', { name: /^Person/ }).press('Enter')
  await card.getByRole('textbox', { name: /^Coil/ }).fill('0.28')
  await card.getByRole('textbox', { name: /^Coil/ }).press('Enter')
  await expect.poll(async () => (await visits())[0]?.coilM, { timeout: 20_000 }).toBe(0.28)
  await card.getByRole('textbox', { name: /^Sweeps/ }).fill('1.5')
  await card.getByRole('textbox', { name: /^Sweeps/ }).press('Enter')
  await card.getByText('The safe speed is 0.42 m/s', { exact: false }).waitFor()
  expect(await card.getByTestId('visit-too-fast').textContent()).not.toBe('–')
  await card.getByRole('textbox', { name: /^Instrument/ }).fill('150')
  await card.getByRole('textbox', { name: /^Instrument/ }).press('Enter')
  await card.getByText('Give a value above 0 up to 100 %.').waitFor()
  await card.getByRole('textbox', { name: /^Instrument/ }).fill('80')
  await card.getByRole('textbox', { name: /^Instrument/ }).press('Enter')
  await expect.poll(async () => (await visits())[0]?.ownChance, { timeout: 20_000 }).toBe(0.8)
  await page.locator('#map').focus()
  await page.keyboard.press('Control+z')
  await expect.poll(async () => (await visits())[0]?.ownChance, { timeout: 20_000 }).toBe(0.9)
  expect((await visits())[0]).toMatchObject({ person: 'Ann', coilM: 0.28, rateHz: 1.5 })
}, 180_000)

test('a replay moves with its slider and with Play, and goes back to the whole visit', async () => {
  const card = page.getByTestId('visit-card')
  const slider = card.getByLabel('Replay')
  await slider.press('Home')
  const first = await slider.inputValue()
  await card.getByRole('button', { name: 'Play' }).click()
  await expect.poll(() => slider.inputValue(), { timeout: 20_000 }).not.toBe(first)
  await card.getByRole('button', { name: 'Pause' }).click()
  await card.getByRole('button', { name: 'Whole visit' }).click()
  await card.getByText('the whole visit').waitFor()
}, 120_000)

test('chances of all visits, shown on the map with a legend; then of one', async () => {
  await page.getByLabel('Missed below').fill('30')
  await page.getByLabel('Missed below').press('Enter')
  await page.getByLabel('With the spread', { exact: false }).check()
  await page.getByRole('button', { name: 'Work out the chances' }).click()
  await page.getByTestId('expected-share').waitFor({ timeout: 120_000 })
  const all = (await chances())!
  expect(all.wish).toMatchObject({ only: null, gapChance: 0.3 })
  const { low, high } = all.cover.spread!
  expect(low).toBeLessThan(high)
  await page.getByTestId('spread').getByText('seed 2026', { exact: false }).waitFor()
  await page.getByLabel('With the spread', { exact: false }).uncheck()
  await page.getByRole('region', { name: 'Layers' }).getByText('Chance it was sensed').waitFor()
  const shares = ['share-50', 'share-80', 'share-95'].map((id) => page.getByTestId(id).textContent())
  const [half = 0, most = 0, sure = 0] = (await Promise.all(shares)).map((text) => Number.parseFloat(text!))
  expect(half).toBeGreaterThanOrEqual(most)
  expect(most).toBeGreaterThanOrEqual(sure)
  await page.keyboard.press('n')
  await page.getByLabel('Of', { exact: true }).selectOption({ index: 1 })
  await page.getByTestId('expected-share').waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Work out the chances' }).click()
  await page.getByTestId('expected-share').waitFor({ timeout: 120_000 })
  const [first] = await visits()
  const one = (await asked<ChancesView>(page, `/api/visits/chances?of=${first!.id}`))!
  expect(one.cover.all.expectedShare).toBeLessThanOrEqual(all.cover.all.expectedShare)
  await page.getByLabel('Missed below').fill('40')
  await page.getByLabel('Missed below').press('Enter')
  await page.getByText('you have asked otherwise since', { exact: false }).waitFor()
  await page.getByLabel('Missed below').fill('30')
  await page.getByLabel('Missed below').press('Enter')
  await page.getByText('you have asked otherwise since', { exact: false }).waitFor({ state: 'detached' })
}, 300_000)

test('the gaps become a search area in one step, and Undo takes it away', async () => {
  const areas = () => asked<unknown[]>(page, '/api/areas')
  const before = (await areas()).length
  await page.getByRole('button', { name: 'Make a search area of the gaps' }).click()
  await expect.poll(async () => (await areas()).length, { timeout: 30_000 }).toBe(before + 1)
  await page.locator('#map').focus()
  await page.keyboard.press('Control+z')
  await expect.poll(async () => (await areas()).length, { timeout: 30_000 }).toBe(before)
}, 120_000)

/** A photograph by a camera in summer time that is four minutes fast, taken some seconds after a findspot was recorded. */
async function photographOf({ name, time }: FindspotView, later: number) {
  const local = new Date(Date.parse(time!) + (3600 + 240 + later) * 1000).toISOString()
  const [taken] = local.replaceAll('-', ':').replace('T', ' ').split('.')
  const buffer = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#775' } })
    .withExif({ IFD0: { Make: name }, IFD2: { DateTimeOriginal: taken! } })
    .jpeg()
    .toBuffer()
  return { name: `${name}.jpg`, mimeType: 'image/jpeg', buffer }
}

test('photographs go to their finds once the clock is set by one of them; nothing is changed before', async () => {
  const spots = (await asked<FindspotView[]>(page, '/api/findspots'))
    .filter(({ time }) => time !== null)
    .slice(0, 2)
  const finds = await Promise.all(
    spots.map(({ name }) => asked<FindView>(page, `/api/finds/named?text=${encodeURIComponent(name)}`)),
  )
  await page.getByRole('button', { name: 'Match photographs to finds' }).press('Enter')
  const dialog = page.getByTestId('matching-dialog')
  await dialog
    .getByTestId('match-input')
    .setInputFiles(await Promise.all(spots.map((spot) => photographOf(spot, 10))))
  await dialog.getByText('2 photographs', { exact: false }).waitFor()
  const first = dialog.getByTestId('matched-photograph').first()
  await first.getByRole('combobox').selectOption({ label: 'another find …' })
  await first.getByLabel('Number of the find', { exact: false }).fill(spots[0]!.name)
  await first.getByRole('button', { name: 'Take it' }).click()
  await first.getByText('Set the clock by this one').click()
  await first.getByRole('button', { name: `Taken as ${spots[0]!.name} was found` }).click()
  await dialog.getByRole('button', { name: 'Attach 2 photographs' }).waitFor()
  expect(await dialog.getByLabel('Camera clock, add').inputValue()).toBe('-250')
  const photographs = async (): Promise<number[]> => {
    const now = await Promise.all(finds.map(({ id }) => asked<FindView>(page, `/api/finds/${id}`)))
    return now.map((find) => find.photographs.length)
  }
  expect(await photographs()).toEqual([0, 0])
  await expectNoBarrierInLooks(page, 'photographs', ['dark'])
  await dialog.getByRole('button', { name: 'Attach 2 photographs' }).click()
  await dialog.getByRole('button', { name: 'Done' }).click()
  expect(await photographs()).toEqual([1, 1])
}, 120_000)

test('after a restart the chances are there, with their day; a change of a sweep puts them out of date', async () => {
  await desk.restart()
  await page.getByTestId('expected-share').waitFor()
  await page.getByTestId('chances-made').getByText('Worked out', { exact: false }).waitFor()
  await page.getByLabel('Map shows').selectOption({ label: 'chance it was sensed' })
  await page.getByRole('region', { name: 'Layers' }).getByText('Chance it was sensed').waitFor()
  await page.getByTestId('visit-list').getByText('% sensed', { exact: false }).first().waitFor()
  await page.getByTestId('visit-list').getByRole('button').last().press('Enter')
  const sweeps = page.getByTestId('visit-card').getByRole('textbox', { name: /^Sweeps/ })
  await sweeps.fill('1.1')
  await sweeps.press('Enter')
  await page.getByText('Out of date: ground, tracks or sweep', { exact: false }).waitFor()
}, 180_000)

test('lanes of a plan are set against the visits, and what was missed becomes a search area', async () => {
  const [area] = await asked<{ id: number }[]>(page, '/api/areas')
  const wishes = { areaId: area!.id, spacingM: 8, bearing: 75 }
  await page.evaluate(
    async (plan) => {
      const headers = { 'content-type': 'application/json', 'x-lynchet': '1' }
      await fetch('/api/plans', { method: 'POST', headers, body: JSON.stringify(plan) })
    },
    { name: 'Lanes 8 m', wishes },
  )
  await page.getByLabel('Compare the visits with a plan').press('Space')
  const lanes = page.getByTestId('lanes-walked')
  await lanes.getByTestId('lanes-share').waitFor()
  expect(Number(await lanes.getByTestId('lanes-skipped').textContent())).toBeGreaterThan(0)
  const before = (await asked<unknown[]>(page, '/api/areas')).length
  await lanes.getByRole('button', { name: 'Make a search area of what was missed' }).click()
  await expect.poll(async () => (await asked<unknown[]>(page, '/api/areas')).length).toBe(before + 1)
  await expectNoBarrierInLooks(page, 'lanes walked', ['dark'])
}, 120_000)

/** A straight walk of 100 m, half a metre a second, from a moment on; then, perhaps, a drive home. */
function walkFile(name: string, start: number, east: number, drives = false) {
  const at = (second: number): string => new Date(start + 1000 * second).toISOString()
  const walk = Array.from({ length: 101 }, (_, i) => `${east},${347_000 + i},${at(2 * i)}`)
  const drive = Array.from({ length: 60 }, (_, i) => `${east + 9 * i},347100,${at(201 + i)}`)
  const rows = ['easting,northing,time', ...walk, ...(drives ? drive : []), '']
  return { name, mimeType: 'text/csv', buffer: Buffer.from(rows.join('\n')) }
}

test('a drive home is cut, one walk recorded twice is left out, and years are chosen', async () => {
  // What was asked of the survey before in the moment of the switch has no answer any more.
  desk.expected.push('/api/')
  await page.evaluate(async () => {
    const headers = { 'content-type': 'application/json', 'x-lynchet': '1' }
    const body = JSON.stringify({ code: 'OVR', title: 'Over the lane' })
    await fetch('/api/surveys', { method: 'POST', headers, body })
  })
  await page.getByTestId('survey-title').getByText('Over the lane').waitFor()
  const [spring, autumn] = [Date.UTC(2025, 3, 5, 9), Date.UTC(2026, 8, 12, 9)]
  const corners = '558000,347000\n558020,347000\n558020,347100\n558000,347100\n558000,347000\n'
  await page
    .getByTestId('file-input')
    .setInputFiles([
      walkFile('home.csv', autumn, 558_010, true),
      walkFile('twin.csv', autumn + 3000, 558_011),
      walkFile('spring.csv', spring, 558_005),
    ])
  await page.getByTestId('import-summary').waitFor()
  desk.expected.pop()
  await page.evaluate(async (text) => {
    const ring = text
      .trim()
      .split('\n')
      .map((row) => row.split(',').map(Number))
    const headers = { 'content-type': 'application/json', 'x-lynchet': '1' }
    const body = JSON.stringify({ name: 'Strip', polygons: [[ring]] })
    await fetch('/api/areas', { method: 'POST', headers, body })
  }, corners)
  await page.getByLabel('Of', { exact: true }).selectOption({ label: 'All of 2026' })
  await page.getByRole('button', { name: 'Work out the chances' }).click()
  await page.getByText('look like one walk recorded twice', { exact: false }).waitFor()
  await page.getByRole('button', { name: /^Leave out / }).click()
  await page.getByText('look like one walk recorded twice', { exact: false }).waitFor({ state: 'detached' })
  await page.getByTestId('visit-list').getByRole('button').last().press('Enter')
  const card = page.getByTestId('visit-card')
  await card.getByText('of this visit look driven', { exact: false }).waitFor()
  const whole = await card.getByTestId('visit-distance').textContent()
  await card.getByRole('button', { name: 'Leave it out' }).click()
  await card.getByRole('button', { name: 'Count it again' }).waitFor()
  await expect.poll(() => card.getByTestId('visit-distance').textContent()).toMatch(/^(9\d|10\d)\s?m$/)
  expect((await visits()).at(-1)).toMatchObject({ day: '2026-09-12', cutDrives: true })
  expect(whole).toMatch(/m$/)
}, 180_000)

test('nothing bars the way, in either look, also on a narrow page; nothing complained', async () => {
  await expectNoBarrierInLooks(page, 'visits')
  await page.setViewportSize({ width: 390, height: 844 })
  await page.getByTestId('visit-list').scrollIntoViewIfNeeded()
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)
  expect(wide).toBe(false)
  await expectNoBarrierInLooks(page, 'visits, narrow')
  expect(desk.complaints).toEqual([])
}, 180_000)
