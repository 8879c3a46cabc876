import type { AddressInfo } from 'node:net'
import { SurveyError } from '#core/faults'
import type { DeskService } from '#service'
import { createApp } from './app.ts'
import type { GuardState } from './guard/guard.ts'
import { createSession } from './guard/session.ts'
import { completeSurroundings, type Surroundings } from './surroundings.ts'
import { usualLimitBytes } from './upload.ts'

export interface ServerOptions {
  /** Stays the caller's: closing the server does not close it. */
  readonly service: DeskService
  /** The folder of the built desk page. May be missing: a page then says how to build it. */
  readonly deskFolder: string
  /** The folder of the built field page, served below /field/; left out: not served. */
  readonly fieldFolder?: string
  /** 0, or left out: the machine chooses. */
  readonly port?: number
  readonly surroundings?: Surroundings
  /** The most that one upload may hold; a gibibyte if left out. */
  readonly uploadLimitBytes?: number
  /** How often an idle event stream gets a sign of life; 15 seconds if left out. */
  readonly heartbeatMs?: number
}

export interface RunningServer {
  /** The address to open, with the key that works once. */
  readonly address: string
  /** Ends event streams, takes back imports under way, and settles when their temporary files are gone. */
  close(): Promise<void>
}

const refusedPorts = new Set(['EADDRINUSE', 'EACCES'])

/** Serves the desk to this machine alone. Faults: SurveyError('port-in-use'). */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const { temporaryFolder, complain, newSecret } = completeSurroundings(options.surroundings)
  const guard: GuardState = { hosts: new Set(), session: null }
  const running = new Set<Promise<unknown>>()
  const app = createApp({
    service: options.service,
    deskFolder: options.deskFolder,
    fieldFolder: options.fieldFolder,
    guard,
    upload: { temporaryFolder, limitBytes: options.uploadLimitBytes ?? usualLimitBytes },
    heartbeatMs: options.heartbeatMs ?? 15_000,
    complain,
    running,
  })
  const asked = options.port ?? 0
  await app.listen({ host: '127.0.0.1', port: asked }).catch((cause: NodeJS.ErrnoException) => {
    if (!refusedPorts.has(cause.code ?? '')) throw cause
    const text = `Port ${asked} cannot be used (${cause.code === 'EACCES' ? 'this user may not' : 'another program has it'}): give another, or none.`
    throw new SurveyError('port-in-use', text, { cause })
  })
  const { port } = app.server.address() as AddressInfo
  // Browsers leave port 80 out of the Host header.
  const hostOf = (name: string): string => new URL(`http://${name}:${port}`).host
  guard.hosts = new Set([hostOf('127.0.0.1'), hostOf('localhost')])
  guard.session = createSession(port, newSecret)
  return {
    address: `http://${hostOf('127.0.0.1')}/?key=${encodeURIComponent(guard.session.key)}`,
    async close() {
      await app.close()
      await Promise.allSettled(running)
    },
  }
}
