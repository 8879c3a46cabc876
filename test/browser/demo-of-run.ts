import { cpSync, existsSync, mkdtempSync, renameSync, rmSync } from 'node:fs'
import path from 'node:path'
import { lynchetJson } from '../cli/run-lynchet.ts'

/** Where this run of the tests keeps the demo survey. Two files that start at once may both write it: the first one's stays. */
function madeOnce(): string {
  const run = process.env.LYNCHET_TEST_RUN
  if (run === undefined) throw new Error('config/vitest.config.ts names the folder of the run: use it.')
  const folder = path.join(run, 'demo')
  if (existsSync(folder)) return folder
  const making = mkdtempSync(path.join(run, 'making-'))
  lynchetJson('demo', path.join(making, 'ninestile-demo.gpkg'))
  try {
    renameSync(making, folder)
  } catch (error) {
    if (!existsSync(folder)) throw error
    rmSync(making, { recursive: true })
  }
  return folder
}

/** Puts the demo survey, as the program writes it at its first start, and its pictures into a folder of surveys. */
export async function copyDemo(home: string): Promise<void> {
  cpSync(madeOnce(), home, { recursive: true })
}
