import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { FindList, FindView, History, JoinView, Numbers } from '#contract'
import { expectNoBarrierInLooks } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/** The catalogue of finds in the real program and a real browser, on the demo survey; one story. */
let desk: OpenDesk
let page: Page

beforeAll(async () => {
  desk = await openDesk()
  page = desk.page
})
afterAll(() => desk?.close())

const fetched = <Value>(address: string): Promise<Value> => asked<Value>(page, address)
const count = async (): Promise<number> => (await fetched<FindList>('/api/finds')).rows.length
const named = (number: string): Promise<FindView> =>
  fetched<FindView>(`/api/finds/named?text=${encodeURIComponent(number)}`)
const card = () => page.getByTestId('record-card')
const search = () => page.getByLabel('Search the finds, or scan or write a number')
async function open(number: string): Promise<void> {
  await search().fill(number)
  await search().press('Enter')
  await page.getByTestId('record-title').getByText(number).waitFor()
}
async function look(view: 'Catalogue' | 'Check in' | 'Joins' | 'Dating'): Promise<void> {
  await page.getByRole('button', { name: view, exact: true }).click()
}
const back = (): Promise<void> => page.getByRole('button', { name: 'Back to the list' }).click()

const expectNoBarrier = (what: string): Promise<void> => expectNoBarrierInLooks(page, what)

test('a find is entered by the keyboard alone: number, what, where', async () => {
  await page.keyboard.press('f')
  await page.getByTestId('finds-table').waitFor()
  const before = await count()
  await page.keyboard.press('i')
  await page.getByTestId('quick-entry').waitFor()
  await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('combobox')
  await page.keyboard.type('buck')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
  await page.keyboard.press('Tab')
  await page.keyboard.type('TF 584 475')
  await page.keyboard.press('Enter')
  await page.getByText(/^Added NST-2026-062, buckle/).waitFor()
  expect(await count()).toBe(before + 1)
  expect((await named('NST-2026-062')).place).toMatchObject({ gridRef: 'TF 584 475' })
  await expectNoBarrier('entry')
  await page.keyboard.type('gone with undo')
  await page.keyboard.press('Enter')
  await page.getByText(/^Added NST-2026-063/).waitFor()
  await page.getByRole('button', { name: 'Undo' }).first().click()
  await expect.poll(count).toBe(before + 1)
  await page.getByRole('button', { name: 'Done' }).click()
})

test('the table narrows as one types, sorts, and shows the columns that are wanted', async () => {
  await search().fill('thimble copper')
  await page.getByText(/^\d+ of 62 finds, here and on the map$/).waitFor()
  const rows = page.getByTestId('finds-table').locator('tbody tr')
  await expect.poll(() => rows.count()).toBeLessThan(30)
  expect(await rows.first().textContent()).toContain('thimble')
  await search().fill('')
  await page.getByRole('button', { name: 'Object', exact: true }).click()
  await expect.poll(() => rows.first().textContent()).toContain('buckle')
  await page.getByRole('button', { name: 'Object', exact: true }).click()
  await expect.poll(() => rows.first().textContent()).not.toContain('buckle')
  await page.getByRole('button', { name: 'Number', exact: true }).click()
  await page.getByRole('button', { name: 'Columns' }).click()
  await page.getByRole('checkbox', { name: 'Finder' }).check()
  await page.getByRole('columnheader', { name: 'Finder' }).waitFor()
  await page.keyboard.press('Escape')
})

test('cells are changed by keys, and Undo brings back what was there', async () => {
  const grid = page.getByTestId('finds-table')
  const was = (await named('NST-2026-002')).record.objectType?.text
  await grid.focus()
  await page.keyboard.press('Home')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('F2')
  const cell = page.getByRole('textbox', { name: 'Object of NST-2026-002' })
  await cell.fill('buckle frame')
  await page.keyboard.press('Enter')
  await expect.poll(async () => (await named('NST-2026-002')).record.objectType?.text).toBe('buckle frame')
  await page.keyboard.press('Control+z')
  await expect.poll(async () => (await named('NST-2026-002')).record.objectType?.text).toBe(was)
})

test('a number opens the record, from which the map is found, and the map opens the record', async () => {
  await open('NST-2026-010')
  await page.keyboard.press('Escape')
  await search().waitFor()
  const map = await page.locator('#map').boundingBox()
  // The findspot was brought to the middle of the map.
  await page.waitForTimeout(600)
  await page.mouse.click(map!.x + map!.width / 2, map!.y + map!.height / 2)
  await card().waitFor()
  expect(await page.getByTestId('record-title').textContent()).toContain('NST-2026-010')
  await back()
})

test('the record understands dates, weights in other units, and offers words as one types', async () => {
  await open('NST-2026-010')
  await card().getByLabel('Date, as written').fill('probably late 2nd century')
  await page.keyboard.press('Enter')
  await expect
    .poll(async () => (await named('NST-2026-010')).record)
    .toMatchObject({
      fromYear: 167,
      toYear: 200,
      certainty: 'probable',
    })
  await card().getByLabel('Weight (g)').fill('12 dwt')
  await page.keyboard.press('Enter')
  // 12 x 24 grains of 64.79891 mg.
  await expect.poll(async () => (await named('NST-2026-010')).record.weightG).toBeCloseTo(18.662, 3)
  await card().getByLabel('To year').fill('0')
  await page.keyboard.press('Tab')
  await card().getByText('There is no year 0').waitFor()
  const materials = card().getByRole('combobox', { name: 'Materials' })
  await materials.fill('copper all')
  await page.getByRole('option', { name: 'Copper alloy' }).waitFor()
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
  await expect
    .poll(async () => (await named('NST-2026-010')).record.materials.at(-1))
    .toMatchObject({ text: 'Copper alloy', term: expect.stringMatching(/^fish:\d+$/) })
  await card().getByText('Keep dry with silica gel').first().waitFor()
  await expectNoBarrier('record')
})

test('history tells each change, and is added to', async () => {
  await card().getByLabel('By or to whom').fill('Ann')
  await card().getByRole('button', { name: 'Add to the history' }).click()
  await page
    .getByTestId('history')
    .getByText(/^Cleaned Ann/)
    .waitFor()
  const { id } = await named('NST-2026-010')
  const history = await fetched<History>(`/api/finds/${id}/history`)
  expect(history[0]).toMatchObject({ kind: 'cleaned', who: 'Ann' })
  expect(history.some(({ fields }) => fields.some(({ label }) => label === 'From year'))).toBe(true)
})

test('a photograph is added, calibrated by its scale bar, and measured', async () => {
  const jpeg = await sharp({ create: { width: 300, height: 200, channels: 3, background: '#775533' } })
    .jpeg()
    .toBuffer()
  await page
    .getByTestId('photograph-input')
    .setInputFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: jpeg })
  await card().getByRole('button', { name: 'Open a.jpg, obverse' }).click()
  const sheet = page.getByRole('application', { name: /^Arrows/ })
  await sheet.waitFor()
  const box = (await sheet.boundingBox())!
  const at = (x: number, y: number) =>
    page.mouse.click(box.x + (x / 300) * box.width, box.y + (y / 200) * box.height)
  await at(50, 150)
  await at(150, 150)
  await page.getByLabel(/Its length$/).fill('50')
  await page.getByRole('button', { name: 'Keep the scale' }).click()
  await page.getByRole('button', { name: 'Length', exact: true, pressed: true }).waitFor()
  await at(50, 50)
  await at(250, 50)
  await expect
    .poll(async () => Number.parseFloat((await page.getByTestId('photograph-figure').textContent()) ?? ''))
    .toBeGreaterThan(97)
  expect(Number.parseFloat((await page.getByTestId('photograph-figure').textContent()) ?? '')).toBeLessThan(
    103,
  )
  await expectNoBarrier('photograph')
  await page.keyboard.press('Escape')
  await back()
})

test('the visit is the one its time tells, until another is chosen', async () => {
  await open('NST-2026-010')
  const visit = card().getByLabel('Visit')
  const byTime = await visit.locator('option').first().textContent()
  expect(byTime).toMatch(/^\d{4}-\d\d-\d\d, .+, by its time$/)
  await visit.selectOption({ index: 1 })
  await expect.poll(async () => (await named('NST-2026-010')).record.visit).toMatch(/^[0-9a-f-]{36}$/)
  await back()
})

test('many finds are changed as one', async () => {
  await search().fill('musket ball')
  await page.getByLabel('Pick all that are listed').check()
  const bulk = page.getByTestId('bulk-edit')
  await bulk.getByLabel('Field').selectOption('whereNow')
  await bulk.getByLabel('Becomes').fill('box 4')
  await bulk.getByRole('button', { name: /^Change/ }).click()
  await page.getByText(/^Changed \d+ finds/).waitFor()
  expect((await named('NST-2026-001')).record.whereNow).toBe('box 4')
  await expectNoBarrier('many')
  await bulk.getByRole('button', { name: 'Pick none' }).click()
  await search().fill('')
})

test('a table is looked at before it is taken in, and its columns may be read otherwise', async () => {
  const table = 'number,object,hue\nNST-2026-003,buckle loop,green\n,spindle whorl,grey\n'
  await page
    .getByTestId('table-input')
    .setInputFiles({ name: 'mine.csv', mimeType: 'text/csv', buffer: Buffer.from(table) })
  const dialog = page.getByTestId('table-dialog')
  await dialog.getByText('1 find to add, 1 to change, 0 the same').waitFor()
  const before = await count()
  await dialog.getByLabel('hue').selectOption('surface')
  await expectNoBarrier('table')
  await dialog.getByRole('button', { name: 'Take it in' }).click()
  await expect.poll(count).toBe(before + 1)
  expect((await named('NST-2026-003')).record).toMatchObject({
    objectType: { text: 'buckle loop' },
    surface: 'green',
  })
  await page.getByRole('button', { name: 'Undo' }).first().click()
  await expect.poll(count).toBe(before)
})

test('finds are saved as a workbook, and a copy for everybody has no spots in it', async () => {
  await page.getByRole('button', { name: 'Export' }).click()
  await page.getByRole('radio', { name: /^Finds\s*\d/ }).check()
  await page.getByRole('radio', { name: 'GeoJSON' }).check()
  await page.getByLabel('A copy for everybody').check()
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: /^Save/ }).click(),
  ])
  expect(file.suggestedFilename()).toMatch(/finds-public\.geojson$/)
  const { features } = JSON.parse(readFileSync(await file.path(), 'utf8'))
  const places = new Set(features.map(({ geometry }: { geometry: unknown }) => JSON.stringify(geometry)))
  expect(features.length).toBeGreaterThan(60)
  expect(places.size).toBe(1)
})

test('labels come as a PDF, and blank ones are expected at check-in', async () => {
  await page.getByRole('button', { name: 'Labels' }).click()
  await page.getByLabel('Blank ones with fresh numbers').check()
  await page.getByLabel('How many').fill('3')
  await expectNoBarrier('labels')
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the PDF' }).click(),
  ])
  expect(
    readFileSync(await file.path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-')
  await expect
    .poll(
      async () =>
        (await fetched<Numbers>('/api/finds/numbers')).gaps.filter(({ state }) => state === 'label').length,
    )
    .toBe(3)
  const { gaps } = await fetched<Numbers>('/api/finds/numbers')
  const blank = gaps.find(({ state }) => state === 'label')!.number
  await look('Check in')
  const checkIn = page.getByTestId('check-in')
  await checkIn.getByText('3 blank labels in hand').waitFor()
  await checkIn.getByLabel('Scan a bag, or write its number').fill(blank)
  await page.keyboard.press('Enter')
  await page.getByRole('list', { name: 'In hand, not entered yet' }).getByText(blank).waitFor()
  expect(await page.getByRole('list', { name: 'Missing' }).textContent()).toContain('NST-2026-062')
  await expectNoBarrier('check-in')
})

test('joins are put forward, accepted, and drawn', async () => {
  await look('Joins')
  await page.getByRole('button', { name: 'Look for joins' }).click()
  await page.getByRole('button', { name: 'Accept', exact: true }).first().click()
  await page.getByText('What the joins come to').waitFor()
  expect((await fetched<JoinView[]>('/api/joins')).filter(({ state }) => state === 'accepted')).toHaveLength(
    1,
  )
  await expectNoBarrier('joins')
})

test('the finds that are dated are drawn over time', async () => {
  await look('Dating')
  await page.getByRole('img', { name: /^Pieces over time/ }).waitFor()
  expect(await page.getByRole('table', { name: 'Pieces in each slice of time' }).textContent()).toContain(
    'AD 151–200',
  )
  await expectNoBarrier('dating')
})

test('a phone has it all, without sideways scrolling of the page', async () => {
  await look('Catalogue')
  await page.setViewportSize({ width: 390, height: 844 })
  await page.getByTestId('finds-table').waitFor()
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  await open('NST-2026-010')
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  await expectNoBarrier('narrow record')
  await page.setViewportSize({ width: 1440, height: 900 })
})

test('a number that no find bears is explained', async () => {
  desk.expected.push('/api/finds/named')
  await back()
  const { gaps } = await fetched<Numbers>('/api/finds/numbers')
  const blank = gaps.find(({ state }) => state === 'label')!.number
  await search().fill(blank)
  await search().press('Enter')
  await page.getByText(`${blank} is on a blank label`).waitFor()
})

test('nothing was complained of', () => {
  expect(desk.complaints).toEqual([])
})
