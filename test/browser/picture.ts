import type { Page } from 'playwright-core'
import sharp from 'sharp'
import { expect } from 'vitest'

/** The middle of the map as colours: three numbers a pixel. Nothing floats over that part of the page. */
export async function mapMiddle(page: Page): Promise<Uint8Array> {
  const box = await page.getByTestId('map').boundingBox()
  if (!box) throw new Error('the map is not shown')
  const [width, height] = [box.width / 2, box.height / 2]
  const clip = { x: box.x + width / 2, y: box.y + height / 2, width, height }
  const png = await page.screenshot({ clip, animations: 'disabled' })
  return sharp(png).removeAlpha().raw().toBuffer()
}

/** Share of pixels, 0 to 1, of which any colour differs by more than 8 of 255. */
export function differingShare(a: Uint8Array, b: Uint8Array): number {
  if (a.length !== b.length) throw new RangeError('the pictures differ in size')
  let differing = 0
  for (let i = 0; i < a.length; i += 3) {
    const most = Math.max(
      Math.abs(a[i]! - b[i]!),
      Math.abs(a[i + 1]! - b[i + 1]!),
      Math.abs(a[i + 2]! - b[i + 2]!),
    )
    if (most > 8) differing += 1
  }
  return differing / (a.length / 3)
}

/** The middle of the map once nothing is being worked out and nothing more is drawn. */
export async function settledMiddle(page: Page): Promise<Uint8Array> {
  const running = (): Promise<number> =>
    page.evaluate(async () => {
      const jobs = (await (await fetch('/api/jobs')).json()) as { state: string }[]
      return jobs.filter(({ state }) => state === 'running').length
    })
  await expect.poll(running, { timeout: 20_000 }).toBe(0)
  let before = await mapMiddle(page)
  const change = async (): Promise<number> => {
    const now = await mapMiddle(page)
    const share = differingShare(before, now)
    before = now
    return share
  }
  await expect.poll(change, { timeout: 20_000, interval: 500 }).toBe(0)
  return before
}
