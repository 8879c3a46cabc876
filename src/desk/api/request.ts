import type { ErrorReply } from '#contract'

/** The server said no, or said nothing. `message` is the one sentence to show. */
export class RequestError extends Error {
  override readonly name = 'RequestError'
  readonly code: string

  constructor(code: string, sentence: string, options?: ErrorOptions) {
    super(sentence, options)
    this.code = code
  }
}

const silent = 'The desk has lost its server, so nothing was changed. Start it again with npm start.'

/** The sentence to show for anything that was thrown. */
export function sentenceOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}

async function faultOf(reply: Response): Promise<RequestError> {
  const body = (await reply.json().catch(() => null)) as ErrorReply | null
  if (body?.error) return new RequestError(body.error.code, body.error.text)
  return new RequestError('unknown', `The server answered with ${reply.status} and no reason.`)
}

interface RequestOptions {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE'
  /** Sent as JSON. */
  readonly json?: unknown
  /** Sent as it is. */
  readonly body?: Blob
  readonly signal?: AbortSignal
}

/** One request to the desk's server. Faults: RequestError, with code 'no-connection' where nothing answered; AbortError. */
export async function request(path: string, options: RequestOptions = {}): Promise<Response> {
  const { method = 'GET', json, body, signal } = options
  const headers: Record<string, string> = {}
  if (method !== 'GET') headers['x-lynchet'] = '1'
  if (json !== undefined) headers['content-type'] = 'application/json'
  if (body !== undefined) headers['content-type'] = 'application/octet-stream'
  let reply: Response
  try {
    reply = await fetch(path, {
      method,
      headers,
      body: body ?? (json === undefined ? null : JSON.stringify(json)),
      signal: signal ?? null,
      credentials: 'same-origin',
    })
  } catch (cause) {
    if (signal?.aborted) throw cause
    throw new RequestError('no-connection', silent, { cause })
  }
  if (!reply.ok) throw await faultOf(reply)
  return reply
}

/** The JSON of a reply. */
export async function requestJson<Reply>(path: string, options?: RequestOptions): Promise<Reply> {
  return (await (await request(path, options)).json()) as Reply
}
