import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { FindView } from '#contract'
import { expectNoBarrier } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/** The catalogue looked at otherwise than find by find, on the demo survey; one story. */
let desk: OpenDesk
beforeAll(async () => {
  desk = await openDesk()
  await desk.page.keyboard.press('f')
})
afterAll(() => desk?.close())

const search = () => desk.page.getByLabel('Search the finds, or scan or write a number')
const named = (number: string) => asked<FindView>(desk.page, `/api/finds/named?text=${number}`)
const button = (name: string) => desk.page.getByRole('button', { name, exact: true })

test('columns are filtered, the filters are told, and one click shows all again', async () => {
  const { page } = desk
  await button('Filter').click()
  const form = page.getByTestId('filter-form')
  await form.getByRole('checkbox', { name: /^thimble/ }).check()
  await form.getByLabel('Column').selectOption('weightG')
  await form.getByLabel('Up to').fill('4')
  await page.getByText(/^\d of 61 finds, here and on the map$/).waitFor()
  const rows = page.getByTestId('finds-table').locator('tbody tr')
  for (const text of await rows.allTextContents()) expect(text).toContain('thimble')
  expect(await page.getByTestId('filters-on').textContent()).toContain('Weight (g) up to 4')
  await expectNoBarrier(page, 'filter')
  await form.getByRole('button', { name: 'Done' }).click()
  await button('Show all finds').click()
  await page.getByText('61 finds', { exact: true }).waitFor()
})

test('cards show the photograph and are walked by keys', async () => {
  const { page } = desk
  const jpeg = await sharp({ create: { width: 300, height: 200, channels: 3, background: '#775533' } })
    .jpeg()
    .toBuffer()
  await search().fill('NST-2026-010')
  await search().press('Enter')
  await page
    .getByTestId('photograph-input')
    .setInputFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: jpeg })
  await page.getByRole('button', { name: 'Open a.jpg, obverse' }).waitFor()
  await button('Back to the list').click()
  await button('Cards').click()
  const cards = page.getByTestId('find-cards')
  await search().fill('NST-2026-01')
  await expect.poll(() => cards.getByRole('option').count()).toBe(10)
  const image = cards.getByRole('img', { name: 'Photograph of NST-2026-010' })
  await expect.poll(() => image.evaluate((img) => (img as HTMLImageElement).naturalWidth)).toBeGreaterThan(50)
  await cards.focus()
  for (const key of ['Home', 'ArrowRight', ' ', 'ArrowLeft']) await page.keyboard.press(key)
  expect(await cards.getByRole('option', { selected: true }).textContent()).toContain('NST-2026-011')
  await page.keyboard.press('Enter')
  await page.getByTestId('record-title').getByText('NST-2026-010').waitFor()
  await button('Back to the list').click()
  await button('Pick none').click()
  await expectNoBarrier(page, 'cards')
  await search().fill('')
  await button('Table').click()
})

test('finds picked on the map and in the table are joined by hand, shown as a group, and parted', async () => {
  const { page } = desk
  await search().fill('NST-2026-010')
  await search().press('Enter')
  await page.getByTestId('record-card').waitFor()
  await button('Back to the list').click()
  // Opening the find brought it to the middle of the map.
  await page.waitForTimeout(600)
  const map = (await page.locator('#map').boundingBox())!
  await page.keyboard.down('Control')
  await page.mouse.click(map.x + map.width / 2, map.y + map.height / 2)
  await page.keyboard.up('Control')
  await page.getByTestId('bulk-edit').getByText('1 find picked').waitFor()
  await page.getByLabel('Pick NST-2026-003', { exact: true }).check()
  await button('Join as one object').click()
  await page.getByText('2 finds joined as one object.').waitFor()
  await button('Pick none').click()
  await button('Joins').click()
  const groups = page.getByRole('list', { name: 'Groups of joined finds' })
  expect(await groups.textContent()).toMatch(/NST-2026-003 and NST-2026-010, [\d.]+\sm apart joined by hand/)
  await expectNoBarrier(page, 'joins')
  await groups.getByRole('button', { name: 'Part NST-2026-003 and NST-2026-010' }).click()
  await groups.waitFor({ state: 'detached' })
  await button('Undo').first().click()
  await groups.waitFor()
  await button('Catalogue').click()
  await search().fill('NST-2026-010')
  await search().press('Enter')
  const joined = page.getByRole('list', { name: 'Joined with' })
  await joined.getByRole('button', { name: 'Part from NST-2026-003' }).waitFor()
  await page.getByLabel('Number of a find that joins it').fill('5')
  await page.keyboard.press('Enter')
  await joined.getByText('NST-2026-005').waitFor()
  await button('Back to the list').click()
})

test('words are made one, and an own list is offered with its codes', async () => {
  const { page } = desk
  await button('Words').click()
  const words = page.getByTestId('words')
  await words.getByRole('checkbox', { name: /^lead token/ }).check()
  await words.getByRole('checkbox', { name: /^lead weight/ }).check()
  const form = page.getByTestId('rename')
  await form.getByRole('combobox').fill('lead piece')
  await form.getByRole('button', { name: 'Change 24 finds' }).click()
  await words.getByRole('button', { name: 'Show the 24 finds with lead piece' }).waitFor()
  await button('Undo').first().click()
  await words.getByRole('checkbox', { name: /^lead token/ }).waitFor()
  const list = 'term,code\nBuckle,http://example.org/11\nPin,\n'
  await page
    .getByTestId('words-input')
    .setInputFiles({ name: 'mine.csv', mimeType: 'text/csv', buffer: Buffer.from(list) })
  await words.getByText('2 terms').waitFor()
  await expectNoBarrier(page, 'words')
  await button('Catalogue').click()
  await search().fill('NST-2026-002')
  await search().press('Enter')
  await page.getByTestId('record-card').getByRole('combobox', { name: 'Object' }).fill('buck')
  await page.getByRole('option', { name: 'Buckle', exact: true }).click()
  await page.keyboard.press('Tab')
  await expect
    .poll(async () => (await named('NST-2026-002')).record.objectType)
    .toEqual({ text: 'Buckle', term: 'http://example.org/11' })
})

test('nothing was complained of', () => {
  expect(desk.complaints).toEqual([])
})
