import { type Browser, chromium } from 'playwright-core'
import { findChromium, howToInstall } from '../../tools/chromium.mjs'

/** Nothing of the machine's own browser is used or touched: no profile, no update, no sync, no request of its own. */
const quiet = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/**
 * Starts the Chromium of this machine with an empty profile of its own, which goes with it. Faults: Error that says what
 * to install where there is none: a test that needs a browser fails without one, it is not passed over.
 */
export async function launchChromium(more: readonly string[] = []): Promise<Browser> {
  const executablePath = findChromium()
  if (!executablePath) throw new Error(howToInstall)
  // Chromium's sandbox does not work for root.
  const root = process.getuid?.() === 0
  const args = [...(root ? ['--no-sandbox'] : []), ...quiet, ...more]
  return chromium.launch({ executablePath, args })
}
