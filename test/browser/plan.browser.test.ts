import { writeFileSync } from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { ConstraintSet, Permission, Plan, PlanPreview, Target } from '#contract'
import { importFiles } from '#service'
import { expectNoBarrier } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/**
 * Land and Plan in the real program and a real browser: leave is written down, a monument is brought in and clashes are said, lanes are
 * planned live, kept, and saved for a handheld. The tests are steps of one story, in order.
 */
let desk: OpenDesk
let page: Page

/** A field of 300 m by 200 m, and a barrow 30 m east of it, as degrees of the ellipsoid about that place. */
const field = {
  type: 'Polygon',
  coordinates: [
    [
      [0.35, 53.0],
      [0.3545, 53.0],
      [0.3545, 53.0018],
      [0.35, 53.0018],
      [0.35, 53.0],
    ],
  ],
}
const barrow = { type: 'Point', coordinates: [0.35494, 53.0009] }
const featureFile = (name: string, geometry: object): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    features: [{ type: 'Feature', properties: { name }, geometry }],
  })

async function fieldAndMonuments(home: string): Promise<void> {
  const file = path.join(home, 'field.geojson')
  writeFileSync(file, featureFile('Long Ground', field))
  writeFileSync(path.join(home, 'monuments.geojson'), featureFile('Bell barrow', barrow))
  await importFiles(path.join(home, 'pln.gpkg'), [file])
}

beforeAll(async () => {
  desk = await openDesk({ before: fieldAndMonuments })
  page = desk.page
})
afterAll(() => desk?.close())

/** The field of a row of the form, whose name its hint is part of. */
const row = (name: string) =>
  page
    .locator('label', { hasText: new RegExp(`^${name}`) })
    .locator('xpath=following-sibling::*[1]/descendant-or-self::input')

/** Saves a picture where LYNCHET_PICTURES names a folder, for people to look at. */
async function picture(name: string): Promise<void> {
  const folder = process.env.LYNCHET_PICTURES
  if (folder === undefined) return
  await page.waitForTimeout(800)
  await page.screenshot({ path: path.join(folder, `${name}.png`) })
}

test('leave is written down, and that it has ended is said', async () => {
  await page.keyboard.press('l')
  await expectNoBarrier(page, 'Land')
  await page.getByRole('button', { name: 'Write a permission down' }).click()
  await page.getByLabel('Name of the permission').fill('Leave of Ninestile')
  await page.getByLabel('Given by').fill('A. Tenant')
  await page.getByLabel('For', { exact: true }).selectOption({ label: 'Long Ground' })
  await page.getByLabel('First day').fill('2020-09-01')
  await page.getByLabel('Last day').fill('2021-02-28')
  await expectNoBarrier(page, 'a new permission')
  await page.getByRole('button', { name: 'Save the permission' }).click()
  await page.getByText('Leave of Ninestile ended on 2021-02-28').waitFor()
  const [made] = await asked<Permission[]>(page, '/api/permissions')
  expect(made).toMatchObject({ holder: 'A. Tenant', startsOn: '2020-09-01', state: 'ended' })
  await page.getByRole('button', { name: 'Change Leave of Ninestile' }).click()
  await page.getByLabel('What is seen').fill('Stubble')
  await page.getByRole('button', { name: 'Add the note' }).click()
  await expect
    .poll(async () => (await asked<Permission[]>(page, '/api/permissions'))[0]?.notes[0]?.note)
    .toBe('Stubble')
  await page.getByLabel('Agreement file').setInputFiles(path.join(desk.home, 'field.geojson'))
  await expect
    .poll(async () => (await asked<Permission[]>(page, '/api/permissions'))[0]?.agreement?.inside)
    .toBe(true)
  await page.getByLabel('Boundary').selectOption({ label: 'As Long Ground' })
  const boundary = async () =>
    (await asked<Permission[]>(page, '/api/permissions'))[0]?.polygons?.[0]?.[0]?.length
  await expect.poll(boundary).toBe(5)
  await page.getByLabel('Terms').fill('Stubble only')
  await page.getByRole('button', { name: 'Change the boundary' }).click()
  await page.getByRole('heading', { name: 'Boundary of Leave of Ninestile' }).waitFor()
  await page.getByRole('button', { name: 'Save the boundary' }).click()
  // What was typed and is not saved yet has waited.
  await page.getByRole('button', { name: 'Save the permission' }).click()
  await page.getByRole('button', { name: 'Change Leave of Ninestile' }).waitFor()
  expect((await asked<Permission[]>(page, '/api/permissions'))[0]?.terms).toBe('Stubble only')
  expect(await boundary()).toBe(5)
})

test('a monument is brought in with its buffer, and the clash is said', async () => {
  await page.getByLabel('What they are').fill('scheduled monument')
  await page.getByLabel('Keep clear by').fill('60')
  await page.getByLabel('Keep clear by').press('Enter')
  await page.getByLabel('Files of constraints').setInputFiles(path.join(desk.home, 'monuments.geojson'))
  await page
    .getByText(/^Long Ground is \d+ m from Bell barrow \(scheduled monument\); 60 m were to be kept\.$/)
    .waitFor()
  await picture('land')
  await expectNoBarrier(page, 'Land with a clash')
  await page.getByLabel('Keep clear of monuments.geojson by').fill('5')
  await page.getByLabel('Keep clear of monuments.geojson by').press('Enter')
  await expect.poll(async () => (await asked<unknown[]>(page, '/api/clashes')).length).toBe(0)
  await page.getByText('0 clashes').waitFor()
  await page.getByLabel('Keep clear of monuments.geojson by').fill('60')
  await page.getByLabel('Keep clear of monuments.geojson by').press('Enter')
  await expect.poll(async () => (await asked<ConstraintSet[]>(page, '/api/constraints'))[0]?.bufferM).toBe(60)
})

test('a file dropped there is a constraint, and comes into the survey as nothing else', async () => {
  const transfer = await page.evaluateHandle(
    (text) => {
      const data = new DataTransfer()
      data.items.add(new File([text], 'pipes.geojson'))
      return data
    },
    featureFile('Gas main', { type: 'Point', coordinates: [0.4, 53.0009] }),
  )
  await page.dispatchEvent('[data-testid="constraint-drop"]', 'dragenter', { dataTransfer: transfer })
  await page.dispatchEvent('[data-testid="constraint-drop"]', 'drop', { dataTransfer: transfer })
  await expect.poll(async () => (await asked<ConstraintSet[]>(page, '/api/constraints')).length).toBe(2)
  expect(await page.getByText('Let go to add the files').count()).toBe(0)
  expect(await asked<unknown[]>(page, '/api/findspots')).toEqual([])
})

test('lanes are laid live, with what they come to', async () => {
  await page.getByTestId('map').focus()
  await page.keyboard.press('p')
  const figures = page.getByTestId('lane-figures')
  await figures.waitFor()
  const before = await figures.textContent()
  await row('Spacing').fill('5')
  await row('Spacing').press('Enter')
  await expect.poll(() => figures.textContent()).not.toBe(before)
  await row('Bearing').fill('90')
  await row('Bearing').press('Enter')
  await page.getByText(/^\d+ lanes along 90°$/).waitFor()
  await page.getByText('Leave of Ninestile ended on 2021-02-28').first().waitFor()
  await page.getByText(/^Lane \d+ is \d+ m from Bell barrow/).waitFor()
  await row('Day').fill('2026-06-21')
  await page
    .getByText(/of light\.$|whole days? of light/)
    .first()
    .waitFor()
  await picture('plan')
  await expectNoBarrier(page, 'Plan')
})

test('the chances follow the figures', async () => {
  const words = page.getByTestId('find-it')
  // By hand, (d + W) / s, capped at 1, with d 10 and W 1.5: lanes 46 m apart cross a scatter one time in four.
  await row('Spacing').fill('46')
  await row('Spacing').press('Enter')
  await expect.poll(() => words.textContent()).toContain('25.0')
  await row('Speed').fill('0.1')
  await row('Speed').press('Enter')
  await expect
    .poll(() => page.getByTestId('sweep-words').textContent())
    .toContain('overlap over the whole arc')
  await row('Spacing').fill('5')
  await row('Spacing').press('Enter')
  await words.scrollIntoViewIfNeeded()
  await picture('find-it')
})

test('a target is added by a typed reference', async () => {
  await page.getByLabel('Grid reference or coordinates').fill('53.0009, 0.3520')
  await page.getByLabel('Name of the target').fill('Mound')
  await page.getByRole('button', { name: 'Add the target' }).click()
  await expect
    .poll(async () => (await asked<Target[]>(page, '/api/targets')).map(({ name }) => name))
    .toEqual(['Mound'])
  await page.getByRole('button', { name: 'By a click' }).click()
  const box = (await page.getByTestId('map').boundingBox())!
  await page.mouse.click(box.x + box.width / 2 + 60, box.y + box.height / 2 + 40)
  await expect.poll(async () => (await asked<Target[]>(page, '/api/targets')).length).toBe(2)
})

test('lanes take the bearing of a line drawn, and a spiral starts at a target', async () => {
  const along = page.getByLabel('Lanes along')
  await along.selectOption('contour')
  await page.getByText('The survey has no terrain model on the map yet: add one in Marks.').waitFor()
  await along.selectOption('line')
  const box = (await page.getByTestId('map').boundingBox())!
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  await page.mouse.click(x - 80, y)
  await page.getByText('Click the other end of it on the map.').waitFor()
  await page.mouse.click(x, y + 80)
  await page.getByText('Lanes lie along the line on the map.').waitFor()
  // Down to the right by as much as across: 135 degrees in a map with north up.
  await page.getByText(/^\d+ lanes along 135°$/).waitFor()
  await picture('line')
  await expectNoBarrier(page, 'Plan with a line')
  await page.getByLabel('Pattern').selectOption('spiral')
  await page.getByLabel('Spiral from').selectOption({ label: 'Mound' })
  const [mound] = await asked<Target[]>(page, '/api/targets')
  const preview = page.waitForResponse((reply) => reply.url().endsWith('/api/plans/preview'))
  await row('Reach').fill('40')
  await row('Reach').press('Enter')
  const { lanes } = (await (await preview).json()) as PlanPreview
  expect(Math.hypot(lanes[0]!.xy[0]! - mound!.easting, lanes[0]!.xy[1]! - mound!.northing)).toBeLessThan(0.02)
  await page.getByLabel('Pattern').selectOption('parallel')
  await along.selectOption('turns')
})

test('a plan is kept and saved for a handheld, and Undo takes it back', async () => {
  await page.getByRole('button', { name: 'Keep the plan' }).click()
  await page.getByTestId('plan-list').getByText('Long Ground, 5 m').waitFor()
  const [plan] = await asked<Plan[]>(page, '/api/plans')
  expect(plan?.clashes[0]).toContain('Bell barrow')
  await page.getByText('Before you walk').waitFor()
  await picture('kept')
  await expectNoBarrier(page, 'Plan with a kept plan')
  await row('Name length').fill('8')
  await row('Name length').press('Enter')
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save for a handheld' }).click(),
  ])
  expect(download.suggestedFilename()).toMatch(/plan-\d+\.gpx$/)
  await page.getByTestId('map').focus()
  await page.keyboard.press('Control+z')
  await expect.poll(async () => (await asked<Plan[]>(page, '/api/plans')).length).toBe(0)
})

test('it holds on a narrow page and in the dark', async () => {
  await page.emulateMedia({ colorScheme: 'dark' })
  await page.setViewportSize({ width: 390, height: 844 })
  await page.getByTestId('lane-figures').waitFor()
  await picture('narrow-dark')
  await expectNoBarrier(page, 'Plan, narrow and dark')
  const wide = await page.evaluate(() => document.documentElement.scrollWidth)
  expect(wide).toBeLessThanOrEqual(390)
})

test('the page complained of nothing', () => {
  expect(desk.complaints).toEqual([])
})
