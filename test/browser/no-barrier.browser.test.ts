import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { launchChromium } from './chromium.ts'
import { axeOn } from './no-barrier.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser?.close())

test('what is planted as a barrier is told, also that of colours alone', async () => {
  const page = await browser.newPage()
  const style = 'style="color: #999; background: #fff"'
  await page.setContent(
    `<!doctype html><html lang="en"><title>Planted</title><main><h1>Planted</h1><p ${style}>pale</p><button></button><img src="a.png"></main>`,
  )
  const { violations } = await axeOn(page).analyze()
  expect(violations.map(({ id }) => id).sort()).toEqual(['button-name', 'color-contrast', 'image-alt'])
})
