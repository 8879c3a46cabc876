import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import type { SurveyView } from '#contract'
import { launchChromium } from './chromium.ts'
import { copyDemo } from './demo-of-run.ts'
import { type RunningProgram, startProgram } from './lynchet-program.ts'

export interface DeskWishes {
  /** Makes what is to be in the folder of surveys before the program starts; it is the demo survey unless told. */
  readonly before?: (home: string) => Promise<void>
  /** Starts as the first time, on an empty folder, and leaves the tour standing. */
  readonly firstStart?: boolean
}

/** The real program, on a folder of surveys of its own, in a page of a real browser. */
export interface OpenDesk {
  readonly home: string
  /** 1440 x 900, light, and still (it asks for less motion), until a test says otherwise. */
  readonly page: Page
  /** Errors in the page's console, uncaught ones, and answers of the server that were none. */
  readonly complaints: string[]
  /** Parts of addresses whose answers a step expects not to be good: they are no complaints. */
  readonly expected: string[]
  /** Another page of the same browser, whose complaints are kept too. */
  newPage(): Promise<Page>
  /** Ends the program and starts it again on the same folder; gives the exit code of the one that ended. */
  restart(): Promise<number | null>
  close(): Promise<void>
}

/** How long a step waits for what it needs, ms: much, since the machine may be busy with other tests. */
const patience = 20_000

function keepComplaints(page: Page, complaints: string[], expected: readonly string[]): void {
  const complain = (what: string, address: string): void => {
    if (!expected.some((part) => address.includes(part))) complaints.push(`${what} ${address}`)
  }
  page.on('pageerror', (error) => complaints.push(`uncaught: ${error.stack ?? error.message}`))
  page.on('console', (message) => {
    if (message.type() === 'error') complain(`console: ${message.text()}`, message.location().url)
  })
  page.on('response', (reply) => {
    if (reply.status() >= 400) complain(`${reply.status()}`, reply.url())
  })
}

async function showSurvey(page: Page, { address }: RunningProgram): Promise<SurveyView> {
  await page.goto(address)
  const survey = await asked<SurveyView>(page, '/api/survey')
  await page.getByTestId('survey-title').getByText(survey.title, { exact: true }).waitFor()
  return survey
}

/** Starts the program and a browser on it. Where the page does not come, neither is left running. */
export async function openDesk({
  before = copyDemo,
  firstStart = false,
}: DeskWishes = {}): Promise<OpenDesk> {
  const home = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
  if (!firstStart) await before(home)
  let program = await startProgram(home)
  const browser = await launchChromium()
  const close = async (): Promise<void> => {
    await browser.close()
    await program.stop()
    rmSync(home, { recursive: true, force: true })
  }
  const viewport = { width: 1440, height: 900 }
  const context = await browser.newContext({ viewport, colorScheme: 'light', reducedMotion: 'reduce' })
  context.setDefaultTimeout(patience)
  const [complaints, expected]: [string[], string[]] = [[], []]
  const newPage = async (): Promise<Page> => {
    const made = await context.newPage()
    keepComplaints(made, complaints, expected)
    return made
  }
  const page = await newPage()
  const restart = async (): Promise<number | null> => {
    // Left first: a page whose server stops says so in the console, rightly.
    await page.goto('about:blank')
    const code = await program.stop()
    program = await startProgram(home)
    await showSurvey(page, program)
    return code
  }
  try {
    const { demo } = await showSurvey(page, program)
    // Where the tour covers is where other tests click.
    if (demo && !firstStart) await page.getByTestId('tour').getByRole('button', { name: 'Close' }).click()
  } catch (error) {
    await close()
    throw error
  }
  return { home, page, complaints, expected, newPage, restart, close }
}

/** What the server answers to the page, as JSON. */
export function asked<Reply>(page: Page, address: string): Promise<Reply> {
  return page.evaluate(async (from) => (await (await fetch(from)).json()) as Reply, address)
}
