import { mkdtempSync, rmSync } from 'node:fs'
import http from 'node:http'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { vi } from 'vitest'
import { type ServerOptions, startServer } from '#server'
import { type FakeDesk, fakeDesk } from './fake-desk.ts'

/** Tries a check again until it holds; ten seconds, since the machine may be busy with other tests. */
export const eventually = (check: () => void): Promise<void> => vi.waitFor(check, { timeout: 10_000 })

export interface Answered {
  readonly status: number
  readonly headers: http.IncomingHttpHeaders
  readonly bytes: Buffer
  readonly text: string
  /** The body as JSON; throws where it is none. */
  readonly json: () => unknown
}

export interface Ask {
  readonly method?: string
  readonly headers?: http.OutgoingHttpHeaders
  readonly body?: string | Buffer
}

/** One raw HTTP request: the path goes out as it stands and no header is added but Host, so a test can be a hostile client. */
export function ask(
  port: number,
  target: string,
  { method = 'GET', headers = {}, body }: Ask = {},
): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const length = body === undefined ? {} : { 'content-length': Buffer.byteLength(body) }
    const options = {
      host: '127.0.0.1',
      port,
      path: target,
      method,
      headers: { ...length, ...headers },
      agent: false,
    }
    const request = http.request(options, (reply) => {
      const chunks: Buffer[] = []
      reply.on('data', (chunk: Buffer) => chunks.push(chunk))
      reply.on('error', reject)
      reply.on('end', () => {
        const bytes = Buffer.concat(chunks)
        const text = bytes.toString()
        resolve({
          status: reply.statusCode ?? 0,
          headers: reply.headers,
          bytes,
          text,
          json: () => JSON.parse(text),
        })
      })
    })
    request.on('error', reject)
    request.end(body)
  })
}

export interface OpenDesk {
  readonly desk: FakeDesk
  readonly address: URL
  readonly port: number
  readonly origin: string
  /** What the server complained of, for nobody but the terminal. */
  readonly complaints: string[]
  /** Where uploads wait. */
  readonly temporaryFolder: string
  /** Headers of the desk's own page once it has been let in: cookie, and what a change needs. */
  readonly own: Record<string, string>
  /** A request by the desk's own page. */
  readonly ask: (target: string, ask?: Ask) => Promise<Answered>
  /** A request with a JSON body by the desk's own page. */
  readonly send: (method: string, target: string, value: unknown) => Promise<Answered>
  close(): Promise<void>
}

/** Starts the server over a fake desk and lets the test in by the key, as a browser would be. */
export async function openDesk(options: Partial<ServerOptions> = {}): Promise<OpenDesk> {
  const desk = fakeDesk()
  const complaints: string[] = []
  const temporaryFolder = mkdtempSync(path.join(tmpdir(), 'lynchet-test-'))
  const server = await startServer({
    service: desk,
    deskFolder: path.join(temporaryFolder, 'not-built'),
    surroundings: { temporaryFolder, complain: (details) => complaints.push(details) },
    ...options,
  })
  const address = new URL(server.address)
  const port = Number(address.port)
  const letIn = await ask(port, address.pathname + address.search)
  const cookie = letIn.headers['set-cookie']?.[0]?.split(';', 1)[0]
  if (!cookie) throw new Error(`not let in: ${letIn.status} ${letIn.text}`)
  const own = { cookie, origin: address.origin, 'x-lynchet': '1', 'sec-fetch-site': 'same-origin' }
  const ownAsk: OpenDesk['ask'] = (target, given = {}) =>
    ask(port, target, { ...given, headers: { ...own, ...given.headers } })
  return {
    desk,
    address,
    port,
    origin: address.origin,
    complaints,
    temporaryFolder,
    own,
    ask: ownAsk,
    send: (method, target, value) =>
      ownAsk(target, {
        method,
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(value),
      }),
    close: async () => {
      await server.close()
      rmSync(temporaryFolder, { recursive: true, force: true })
    },
  }
}
