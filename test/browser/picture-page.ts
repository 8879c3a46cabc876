import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Locator, Page } from 'playwright-core'
import sharp from 'sharp'
import { expect } from 'vitest'
import { launchChromium } from './chromium.ts'
import { startProgram } from './lynchet-program.ts'

/** The real program with the demo survey open in a real browser. */
export interface OpenPage {
  readonly page: Page
  /** Errors in the page's console, uncaught ones, and answers of the server that were none. */
  readonly complaints: string[]
  close(): Promise<void>
}

export async function openPage(): Promise<OpenPage> {
  const home = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
  const complaints: string[] = []
  const browser = await launchChromium()
  const program = await startProgram(home)
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme: 'light' })
  const page = await context.newPage()
  page.on('pageerror', (error) => complaints.push(`uncaught: ${error.stack ?? error.message}`))
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`)
  })
  page.on('response', (reply) => {
    if (reply.status() >= 400) complaints.push(`${reply.status()} ${reply.url()}`)
  })
  page.setDefaultTimeout(10_000)
  await page.goto(program.address)
  await page.getByTestId('survey-title').getByText('Ninestile').waitFor()
  return {
    page,
    complaints,
    close: async () => {
      await browser.close()
      await program.stop()
      rmSync(home, { recursive: true, force: true })
    },
  }
}

/** What the server answers to the page, as JSON. */
export function asked<Reply>(page: Page, address: string): Promise<Reply> {
  return page.evaluate(async (from) => (await (await fetch(from)).json()) as Reply, address)
}

export type Colour = readonly [red: number, green: number, blue: number]

/** A PNG whose pixels a function gives. */
export async function picture(
  columns: number,
  rows: number,
  colour: (column: number, row: number) => Colour,
): Promise<Buffer> {
  const pixels = Buffer.alloc(columns * rows * 3)
  for (let y = 0; y < rows; y += 1)
    for (let x = 0; x < columns; x += 1) pixels.set(colour(x, y), 3 * (y * columns + x))
  return sharp(pixels, { raw: { width: columns, height: rows, channels: 3 } })
    .png()
    .toBuffer()
}

/** The colour at a place of an element, shares of its width and height. */
export async function colourAt(page: Page, at: Locator, right: number, down: number): Promise<Colour> {
  const box = await at.boundingBox()
  if (!box) throw new Error('it is not shown')
  const clip = { x: box.x + box.width * right, y: box.y + box.height * down, width: 1, height: 1 }
  const png = await page.screenshot({ clip, animations: 'disabled' })
  const [red = 0, green = 0, blue = 0] = await sharp(png).removeAlpha().raw().toBuffer()
  return [red, green, blue]
}

/** The name of a colour; hardly coloured, as paper and its lines are, is grey. */
export function nameOf([red, green, blue]: Colour): 'red' | 'green' | 'blue' | 'grey' {
  const most = Math.max(red, green, blue)
  if (most - Math.min(red, green, blue) < 45) return 'grey'
  return most === red ? 'red' : most === green ? 'green' : 'blue'
}

export async function expectNoBarrier(page: Page, what: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze()
  const told = violations.map(
    ({ id, nodes }) => `${what}: ${id} at ${nodes.map(({ target }) => target).join(', ')}`,
  )
  expect(told).toEqual([])
}
