import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'

/** A folder of this run of the tests, named by LYNCHET_TEST_RUN, for what is made once and read by several files; gone at the end. */
export default function runFolder(): () => void {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-run-'))
  process.env.LYNCHET_TEST_RUN = folder
  return () => rmSync(folder, { recursive: true, force: true })
}
