import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { expectNoBarrier } from './no-barrier.ts'
import { type OpenDesk, openDesk } from './open-desk.ts'
import { differingShare, mapMiddle, settledMiddle } from './picture.ts'

/** The terrain model of the demo, looked at in every way; in the real program and a real browser. */
let desk: OpenDesk
let page: Page
beforeAll(async () => {
  desk = await openDesk()
  page = desk.page
  await page.keyboard.press('k')
})
afterAll(() => desk?.close())

const legend = (): Locator => page.getByRole('region', { name: 'Layers' })

const settled = (): Promise<Uint8Array> => settledMiddle(page)

test('the terrain alone is shown, lit from the north-west', async () => {
  for (const box of await legend().getByRole('checkbox').all()) await box.uncheck()
  const bare = await settled()
  await legend()
    .getByRole('checkbox', { name: /Terrain/ })
    .check()
  expect(differingShare(bare, await settled())).toBeGreaterThan(0.5)
  await page.getByRole('button', { name: /^Terrain model/ }).click()
  expect(await page.getByLabel('View').inputValue()).toBe('hillshade')
  expect(await page.getByLabel('Light from').inputValue()).toBe('315')
})

test('the light is moved by keyboard, and the ground looks otherwise without a gap between', async () => {
  await page.getByLabel('Heights exaggerated').fill('5')
  const before = await settled()
  const paper: number[] = []
  await page.getByLabel('Light from').focus()
  for (let step = 0; step < 18; step += 1) {
    await page.keyboard.press('ArrowLeft')
    // Paper is nearly white: were tiles taken away before others come, much would be.
    const now = await mapMiddle(page)
    paper.push(now.filter((value) => value > 238).length / now.length)
  }
  expect(await page.getByLabel('Light from').inputValue()).toBe('225')
  expect(differingShare(before, await settled())).toBeGreaterThan(0.1)
  expect(Math.max(...paper)).toBeLessThan(0.3)
})

test('every view of the list is another picture', async () => {
  const pictures: Uint8Array[] = [await settled()]
  const views = await page
    .getByLabel('View')
    .locator('option')
    .evaluateAll((options) => options.map((option) => (option as HTMLOptionElement).value))
  expect(views).toHaveLength(9)
  for (const view of views.slice(1)) {
    const painted = page.waitForResponse((reply) => reply.url().includes(`view=${view}`), { timeout: 30_000 })
    await page.getByLabel('View').selectOption(view)
    expect((await painted).status()).toBe(200)
    const now = await settled()
    for (const other of pictures) expect(differingShare(other, now)).toBeGreaterThan(0.05)
    pictures.push(now)
  }
  await expectNoBarrier(page, 'views')
})

test('a number out of bounds is refused in a sentence, and the usual view comes back', async () => {
  const radius = page.getByRole('textbox', { name: 'Looks around' })
  await radius.fill('9000')
  await radius.press('Enter')
  await page.getByText('Give a value from 1 to 400 m.').waitFor()
  await page.getByRole('button', { name: 'Back to the usual view' }).click()
  await expect.poll(() => page.getByLabel('View').inputValue()).toBe('hillshade')
  expect(await page.getByLabel('Light from').inputValue()).toBe('315')
})

test('nothing went wrong on the way', () => expect(desk.complaints).toEqual([]))
