import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const program = fileURLToPath(new URL('../../src/lynchet.ts', import.meta.url))

/** Runs one command line in a process of its own, as a user would, and gives its exit code and what it wrote. */
export function runLynchet(...words: string[]): { code: number | null; out: string; err: string } {
  const done = spawnSync(process.execPath, [program, ...words], { encoding: 'utf8' })
  return { code: done.status, out: done.stdout, err: done.stderr }
}

/** The one JSON object on stdout of a command that must succeed. */
export function lynchetJson<Reply>(...words: string[]): Reply {
  const { code, out, err } = runLynchet(...words, '--json')
  if (code !== 0) throw new Error(`exit ${code}: ${err}`)
  return JSON.parse(out) as Reply
}
