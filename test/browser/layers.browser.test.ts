import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Layer, SurveyView } from '#contract'
import { colourAt, nameOf, picture } from './colours.ts'
import { expectNoBarrier } from './no-barrier.ts'
import { asked, type OpenDesk, openDesk } from './open-desk.ts'

/** Looking at pictures, in the real program and a real browser; the steps of one story, in order. */
let desk: OpenDesk
let page: Page
beforeAll(async () => {
  desk = await openDesk()
  page = desk.page
})
afterAll(() => desk?.close())

/** The ground of both pictures: 400 x 300 m at 1 m a pixel, in the British grid. */
const ground = { west: 558_400, south: 347_400, columns: 400, rows: 300 } as const
const world = `1\n0\n0\n-1\n${ground.west + 0.5}\n${ground.south + ground.rows - 0.5}\n`
const prj =
  'PROJCS["British_National_Grid",GEOGCS["GCS_OSGB_1936",DATUM["D_OSGB_1936",SPHEROID["Airy_1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0],UNIT["Degree",0.017453292519943295]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",400000],PARAMETER["False_Northing",-100000],PARAMETER["Central_Meridian",-2],PARAMETER["Scale_Factor",0.999601272],PARAMETER["Latitude_Of_Origin",49],UNIT["Meter",1]]'

const survey = () => asked<SurveyView>(page, '/api/survey')
const layers = () => asked<Layer[]>(page, '/api/layers')
const row = (name: string): Locator => page.getByRole('button', { name: new RegExp(`^${name}`) })
const map = (): Locator => page.getByTestId('map')
const seen = async (right = 0.5, down = 0.5, at = map()): Promise<string> =>
  nameOf(await colourAt(page, at, right, down))

async function give(files: readonly { readonly name: string; readonly bytes: Buffer }[]): Promise<string> {
  const payload = files.map(({ name, bytes }) => ({
    name,
    mimeType: 'application/octet-stream',
    buffer: bytes,
  }))
  await page.getByTestId('file-input').setInputFiles(payload)
  const summary = page.getByTestId('import-summary')
  await summary.waitFor()
  const text = await summary.textContent()
  await page.getByRole('button', { name: 'Close the summary' }).click()
  return text ?? ''
}

test('in an empty survey the stage says how a picture comes in, and a base map is off', async () => {
  await page.getByRole('button', { name: 'Other surveys' }).click()
  await page.getByRole('button', { name: 'New survey' }).click()
  await page.getByLabel('Title').fill('Picture Field')
  await page.getByLabel('Code').fill('PIC')
  await page.getByRole('button', { name: 'Make the survey' }).click()
  await page.getByTestId('survey-title').getByText('Picture Field').waitFor()
  await page.keyboard.press('k')
  await page.getByText('No picture yet').waitFor()
  await page.getByText('None is built in.').waitFor()
  await expectNoBarrier(page, 'empty')
})

test('a picture with its world file and .prj, given at once, lies on the map', async () => {
  const red = await picture(ground.columns, ground.rows, (x) => [150 + x / 4, 40, 40])
  const text = await give([
    { name: 'red.png', bytes: red },
    { name: 'red.pgw', bytes: Buffer.from(world) },
    { name: 'red.prj', bytes: Buffer.from(prj) },
  ])
  expect(text).toContain('1 layer')
  await row('red.png').waitFor()
  await expect.poll(() => seen(), { timeout: 15_000 }).toBe('red')
  expect((await survey()).grid?.epsg).toBe(27_700)
  const [layer] = await layers()
  expect(layer?.bounds).toEqual([
    ground.west,
    ground.south,
    ground.west + ground.columns,
    ground.south + ground.rows,
  ])
  // Beyond the picture there is paper.
  expect(await seen(0.5, 0.02)).toBe('grey')
})

test('another year lies above it, though its .prj has the same bytes; order goes by keyboard', async () => {
  const blue = await picture(ground.columns, ground.rows, (x, y) => [30 + y / 6, 40, 150 + x / 4])
  await give([
    { name: 'blue.png', bytes: blue },
    { name: 'blue.pgw', bytes: Buffer.from(world) },
    { name: 'blue.prj', bytes: Buffer.from(prj) },
  ])
  await expect.poll(() => seen(), { timeout: 15_000 }).toBe('blue')
  await page.getByRole('button', { name: 'Show red.png on the map' }).click()
  await page.getByRole('button', { name: 'Move blue.png down' }).focus()
  await page.keyboard.press('Enter')
  await expect.poll(() => seen()).toBe('red')
  await page.getByRole('button', { name: 'Move blue.png up' }).press('Enter')
  await expect.poll(() => seen()).toBe('blue')
})

test('the switch, opacity and blending change what is seen', async () => {
  await page.getByRole('button', { name: 'Show blue.png on the map' }).click()
  await expect.poll(() => seen()).toBe('red')
  await page.getByRole('button', { name: 'Show blue.png on the map' }).click()
  await expect.poll(() => seen()).toBe('blue')
  const [r, g, b] = await colourAt(page, map(), 0.5, 0.5)
  await row('blue.png').click()
  await page.getByLabel('Opacity').fill('0')
  await expect.poll(() => seen()).toBe('red')
  const below = await colourAt(page, map(), 0.5, 0.5)
  await page.getByLabel('Opacity').fill('100')
  await page.getByLabel('Laid').selectOption('multiply')
  // W3C Compositing: multiply is the product of both, each from 0 to 1. Three of 255 for rounding and scaling.
  const wanted = [r, g, b].map((value, i) => (value * below[i]!) / 255)
  await expect
    .poll(async () =>
      Math.max(...(await colourAt(page, map(), 0.5, 0.5)).map((value, i) => Math.abs(value - wanted[i]!))),
    )
    .toBeLessThanOrEqual(3)
  await page.getByLabel('Laid').selectOption('normal')
  await expect.poll(() => seen()).toBe('blue')
})

test('another view is another picture, fetched once, and the usual one comes back', async () => {
  const tiles: string[] = []
  const note = (reply: { url(): string }): void => {
    if (reply.url().includes('/tiles/')) tiles.push(reply.url())
  }
  page.on('request', note)
  await page.getByLabel('View').selectOption('band')
  await page.getByRole('textbox', { name: 'Band' }).fill('3')
  await page.getByRole('textbox', { name: 'Band' }).press('Enter')
  await expect.poll(() => seen(0.4)).toBe('grey')
  expect(tiles.some((address) => address.includes('view=band') && address.includes('number=3'))).toBe(true)
  const left = await colourAt(page, map(), 0.3, 0.5)
  const right = await colourAt(page, map(), 0.6, 0.5)
  expect(right[0]).toBeGreaterThan(left[0] + 40)
  await expectNoBarrier(page, 'a view')
  // The same place again asks for nothing: the stamp makes tiles keepable.
  tiles.length = 0
  await map().focus()
  await page.keyboard.press('ArrowRight')
  await page.waitForTimeout(600)
  await page.keyboard.press('ArrowLeft')
  await page.waitForTimeout(600)
  expect(new Set(tiles).size).toBe(tiles.length)
  page.off('request', note)
  await page.getByRole('button', { name: 'Back to the usual view' }).click()
  await expect.poll(() => seen()).toBe('blue')
})

test('what is set is remembered when the page is loaded anew', async () => {
  await page.getByLabel('Opacity').fill('60')
  await page.waitForTimeout(500)
  await page.reload()
  await page.getByTestId('survey-title').getByText('Picture Field').waitFor()
  await page.keyboard.press('k')
  await row('blue.png').click()
  expect(await page.getByLabel('Opacity').inputValue()).toBe('60')
  await page.getByLabel('Opacity').fill('100')
})

test('name, day and owner are changed, stand on the map, and Undo takes them back', async () => {
  await page.getByText('Name, day and file').click()
  await page.getByLabel('Name', { exact: true }).fill('Low Field')
  await page.getByLabel('Day it was taken').fill('2026-07-02')
  await page.getByLabel('Whose it is').fill('© Ninestile Farm')
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await row('Low Field').waitFor()
  await expect.poll(() => page.getByTestId('map-credits').textContent()).toBe('© Ninestile Farm')
  const legend = page.getByRole('region', { name: 'Layers' })
  await legend.getByText('Low Field (2026)').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await row('blue.png').waitFor()
  await expect.poll(() => page.getByTestId('map-credits').count()).toBe(0)
  await row('blue.png').click()
})

test('swipe: each picture on its side of a divider that keys and pointer move', async () => {
  await page.getByRole('button', { name: 'Swipe' }).click()
  await expect.poll(() => seen(0.4)).toBe('blue')
  await expect.poll(() => seen(0.56)).toBe('red')
  const divider = page.getByTestId('swipe-divider')
  await divider.focus()
  for (let step = 0; step < 5; step += 1) await page.keyboard.press('ArrowRight')
  expect(await divider.getAttribute('aria-valuenow')).toBe('60')
  await expect.poll(() => seen(0.56)).toBe('blue')
  const box = await divider.boundingBox()
  const frame = await map().boundingBox()
  if (!box || !frame) throw new Error('the divider is not shown')
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
  await page.mouse.down()
  await page.mouse.move(frame.x + frame.width * 0.35, box.y + 40, { steps: 4 })
  await page.mouse.up()
  await expect.poll(() => seen(0.4)).toBe('red')
  await expectNoBarrier(page, 'swipe')
})

test('flicker: X shows the other, a rate does so by itself, and less motion means by hand', async () => {
  await page.emulateMedia({ reducedMotion: 'no-preference' })
  await page.getByRole('button', { name: 'Flicker' }).click()
  await expect.poll(() => seen()).toBe('blue')
  expect(await page.getByTestId('flicker-shown').textContent()).toBe('blue.png')
  await page.keyboard.press('x')
  await expect.poll(() => seen()).toBe('red')
  await page.getByLabel('Changes').selectOption('2')
  const shown = new Set<string | null>()
  const seenSoFar = async (): Promise<number> =>
    shown.add(await page.getByTestId('flicker-shown').textContent()).size
  await expect.poll(seenSoFar).toBeGreaterThan(1)
  expect(shown).toEqual(new Set(['blue.png', 'red.png']))
  await page.getByLabel('Changes').selectOption('0')
  await expectNoBarrier(page, 'flicker')
  await page.keyboard.press('Escape')
  await expect.poll(() => page.getByTestId('flicker-shown').count()).toBe(0)
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.getByRole('button', { name: 'Flicker' }).click()
  await page.getByText('This system asks for less motion').waitFor()
})

test('side by side: two maps of one place that move together, with one cross', async () => {
  await page.getByRole('button', { name: 'Side by side' }).click()
  const panes = page.getByTestId('beside-maps').getByRole('application')
  await expect.poll(() => panes.count()).toBe(2)
  const pane = (i: number): Promise<string> => seen(0.3, 0.4, panes.nth(i))
  await expect.poll(() => pane(0)).toBe('blue')
  await expect.poll(() => pane(1)).toBe('red')
  await panes.first().focus()
  // So far that both look past the picture's edge.
  for (let step = 0; step < 14; step += 1) {
    await page.keyboard.press('ArrowRight')
    await page.waitForTimeout(120)
  }
  await expect.poll(() => seen(0.9, 0.4, panes.nth(0))).toBe('grey')
  await expect.poll(() => seen(0.9, 0.4, panes.nth(1))).toBe('grey')
  await expectNoBarrier(page, 'side by side')
  await page.getByTestId('beside-maps').getByRole('button', { name: 'End comparing' }).click()
  await expect.poll(() => panes.count()).toBe(0)
  await page
    .getByRole('button', { name: 'Show everything' })
    .or(page.getByLabel('Whole survey'))
    .first()
    .click()
})

/** A plain photograph of 200 x 150 pixels of 2 m, turned by a quarter: its columns run north, its rows east. */
const photo = { columns: 200, rows: 150 } as const
const groundOf = (column: number, row: number): readonly [number, number] => [
  ground.west + 40 + row * 2,
  ground.south - 60 + column * 2,
]

test('a plain photograph is placed by tie points, its residuals shown before it is saved', async () => {
  const bytes = await picture(photo.columns, photo.rows, (x) => (x < 100 ? [30, 160, 30] : [170, 120, 20]))
  await give([{ name: 'photo.png', bytes }])
  await row('photo.png').getByText('Lies nowhere yet').waitFor()
  await row('photo.png').click()
  await page.getByRole('button', { name: 'Place it by tie points' }).click()
  const dialog = page.getByRole('dialog')
  const sum = page.getByTestId('tie-sum')
  await expect.poll(() => seen(0.3, 0.5, page.getByTestId('tie-picture'))).toBe('green')
  const corners = [
    [0, 0],
    [200, 0],
    [200, 150],
    [0, 150],
  ] as const
  for (const [i, [column, line]] of corners.entries()) {
    // One click begins the point; its figures are then typed.
    await page.getByTestId('tie-picture').click({ position: { x: 120 + 60 * i, y: 200 } })
    const [easting, northing] = groundOf(column, line)
    const figures = [
      ['Column', column],
      ['Row', line],
      ['Easting', easting],
      // The last is 4 m off at first.
      ['Northing', northing + (i === 3 ? 4 : 0)],
    ] as const
    for (const [what, value] of figures) {
      const cell = dialog.getByLabel(`${what} of point ${i + 1}`)
      await cell.fill(String(value))
      await cell.press('Enter')
    }
  }
  // An error of 4 m at one corner of a rectangle is shared by all four; the root mean square over two degrees of freedom is its root of 2.
  await expect.poll(() => sum.textContent()).toContain('1.41')
  for (const i of [1, 2, 3, 4]) {
    expect(await page.getByTestId(`off-by-${i}`).textContent()).toContain('1.00')
  }
  await expectNoBarrier(page, 'tie points')
  const last = dialog.getByLabel('Northing of point 4')
  await last.fill(String(groundOf(0, 150)[1]))
  await last.press('Enter')
  await expect.poll(() => sum.textContent()).toContain('0.00')
  await page.keyboard.press('Escape')
  expect(await dialog.isVisible()).toBe(true)
  await page.getByRole('button', { name: 'Save the placing' }).click()
  await dialog.waitFor({ state: 'hidden' })
  const placed = (await layers()).find((layer) => layer.name === 'photo.png')
  expect(placed?.placedBy).toBe('tie-points')
  const [west = 0, south = 0] = groundOf(0, 0)
  const [east = 0, north = 0] = groundOf(photo.columns, photo.rows)
  placed?.bounds?.forEach((value, i) => {
    // Bounds are whole pixels of 2 m, outwards.
    expect(Math.abs(value - [west, south, east, north][i]!)).toBeLessThanOrEqual(2)
  })
  // Columns run north, so the green half lies in the south.
  await expect.poll(() => seen(0.5, 0.6), { timeout: 15_000 }).toBe('green')
  await expect.poll(() => seen(0.5, 0.4)).toBe('red')
})

test('a place in any notation sets the ground side, and a click on the map too', async () => {
  await page.getByRole('button', { name: 'Change its tie points' }).click()
  const dialog = page.getByRole('dialog')
  await page.getByTestId('tie-picture').click({ position: { x: 200, y: 150 } })
  await dialog.getByLabel('Point 5 on the ground').fill('TF 58500 47500')
  await dialog.getByRole('button', { name: 'Set' }).click()
  // A reference of five figures names a square of 1 m; its middle is meant.
  await expect.poll(() => dialog.getByLabel('Easting of point 5').inputValue()).toBe('558500.50')
  await page.getByTestId('tie-ground').click({ position: { x: 150, y: 150 } })
  await page.getByTestId('tie-picture').focus()
  await page.keyboard.press('Enter')
  await expect.poll(() => dialog.getByLabel('Column of point 6').inputValue()).not.toBe('')
  expect(await dialog.getByLabel('Easting of point 6').inputValue()).not.toBe('')
  await dialog.getByRole('button', { name: 'Remove point 6' }).click()
  await expect.poll(() => dialog.getByLabel('Column of point 6').count()).toBe(0)
  await dialog.getByRole('button', { name: 'Cancel' }).click()
  await dialog.waitFor({ state: 'hidden' })
})

test('a layer is taken out and Undo brings it back', async () => {
  await page.getByText('Name, day and file').click()
  await page.getByRole('button', { name: 'Take out of the survey' }).click()
  await expect.poll(() => row('photo.png').count()).toBe(0)
  await page.getByRole('main').getByRole('button', { name: 'Undo' }).click()
  await row('photo.png').waitFor()
})

test.each([
  [1440, 900, 'light'],
  [390, 844, 'light'],
  [390, 844, 'dark'],
  [1440, 900, 'dark'],
] as const)('at %i x %i, %s, nothing is shut out or beyond the edge', async (width, height, colorScheme) => {
  await page.setViewportSize({ width, height })
  await page.emulateMedia({ colorScheme })
  await expectNoBarrier(page, `${width} ${colorScheme}`)
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width)
})

test('nothing went wrong on the way', () => expect(desk.complaints).toEqual([]))
