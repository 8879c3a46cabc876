import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'

export interface Ended {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

const program = fileURLToPath(new URL('../../src/lynchet.ts', import.meta.url))

/** Runs one command line in a process of its own, as a user would, and gives its exit code and what it wrote. */
export function runLynchet(...words: string[]): Ended {
  const done = spawnSync(process.execPath, [program, ...words], { encoding: 'utf8' })
  return { code: done.status, out: done.stdout, err: done.stderr }
}

/** The one JSON object on stdout of a command that must succeed. */
export const lynchetJson = <Reply>(...words: string[]): Reply => reply(runLynchet(...words, '--json'))

/** What a command that must succeed gave as JSON. */
export function reply<Reply>({ code, out, err }: Ended): Reply {
  if (code !== 0) throw new Error(`exit ${code}: ${err}`)
  return JSON.parse(out) as Reply
}
