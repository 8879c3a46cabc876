import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../..', import.meta.url))

/** The real program, run as a user would, on a folder of surveys of its own. */
export interface RunningProgram {
  /** The address that it printed, with the key that works once. */
  readonly address: string
  /** Stops it as a system would (SIGTERM) and gives its exit code. */
  stop(): Promise<number | null>
}

/** The first line of its stdout, which is all that `--json` prints there. */
function firstLine(child: ChildProcess, said: () => string): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = ''
    child.stdout?.on('data', (chunk: Buffer) => {
      text += chunk
      if (text.includes('\n')) resolve(text.slice(0, text.indexOf('\n')))
    })
    child.once('error', reject)
    child.once('exit', (code) =>
      reject(new Error(`the program ended with ${code} before it printed: ${said()}`)),
    )
  })
}

/** Starts `lynchet open --no-browser --json`. The desk page must have been built (npm test does so first). */
export async function startProgram(home: string): Promise<RunningProgram> {
  if (!existsSync(path.join(root, 'dist', 'desk', 'index.html'))) {
    throw new Error('The desk page has not been built: run the tests by `npm test`, which builds it first.')
  }
  const words = ['src/lynchet.ts', 'open', '--no-browser', '--json', '--home', home]
  const child = spawn(process.execPath, words, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] })
  let errors = ''
  child.stderr.on('data', (chunk: Buffer) => {
    errors += chunk
  })
  const exit = new Promise<number | null>((resolve) => child.once('exit', resolve))
  const { address } = JSON.parse(await firstLine(child, () => errors)) as { address: string }
  return {
    address,
    stop: () => {
      child.kill('SIGTERM')
      return exit
    },
  }
}
