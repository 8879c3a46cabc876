import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/**
 * Axe on a page, set so that it takes a quarter of the time that it takes as it comes and finds the same. Only what is wrong
 * is wanted, or it makes a selector for every element that is right. It runs in the page at once, which is called its legacy
 * mode and reads no frames of other origins (our pages have none), or it opens a blank page each time to put the parts together.
 */
export const axeOn = (page: Page): AxeBuilder =>
  new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode()

/** Asks axe what bars the way on the page as it stands. */
export async function expectNoBarrier(page: Page, what: string): Promise<void> {
  const { violations } = await axeOn(page).analyze()
  const told = violations.map(
    ({ id, nodes }) => `${what}: ${id} at ${nodes.map(({ target, html }) => `${target} ${html}`).join(', ')}`,
  )
  expect(told).toEqual([])
}

/** The same in both looks, or those that are named; the page is light afterwards. */
export async function expectNoBarrierInLooks(
  page: Page,
  what: string,
  looks: readonly ('light' | 'dark')[] = ['light', 'dark'],
): Promise<void> {
  for (const colorScheme of looks) {
    await page.emulateMedia({ colorScheme })
    await expectNoBarrier(page, `${what}, ${colorScheme}`)
  }
  await page.emulateMedia({ colorScheme: 'light' })
}
