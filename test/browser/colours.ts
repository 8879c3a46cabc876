import type { Locator, Page } from 'playwright-core'
import sharp from 'sharp'

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
