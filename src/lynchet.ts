import { spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { homedir } from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { type OpenDesk, runCommandLine } from '#cli'
import { startServer } from '#server'
import { Desk } from '#service'

/** The one place that knows both the server and the command line. */
const root = fileURLToPath(new URL('..', import.meta.url))

function showInBrowser(address: string): void {
  const [program, args] =
    process.platform === 'darwin'
      ? (['open', [address]] as const)
      : process.platform === 'win32'
        ? (['cmd', ['/c', 'start', '', address.replaceAll('&', '^&')]] as const)
        : (['xdg-open', [address]] as const)
  // Where no browser can be started the printed address serves.
  spawn(program, args, { stdio: 'ignore', detached: true })
    .on('error', () => {})
    .unref()
}

const openDesk: OpenDesk = async ({ survey, home, port, browser }) => {
  const folder = home ?? process.env.LYNCHET_HOME ?? path.join(homedir(), 'Lynchet')
  const desk = await Desk.open(folder, survey)
  const server = await startServer({
    service: desk,
    port,
    deskFolder: path.join(root, 'dist', 'desk'),
    fieldFolder: path.join(root, 'dist', 'field'),
  })
  const ended = new Promise<void>((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      process.once(signal, () => {
        void server.close().then(() => {
          desk.close()
          resolve()
        })
      })
    }
  })
  if (browser) showInBrowser(server.address)
  return { address: server.address, ended }
}

const { version } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as { version: string }

process.exitCode = await runCommandLine(process.argv.slice(2), {
  version,
  openDesk,
  terminal: {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    live: process.stderr.isTTY === true,
  },
})
