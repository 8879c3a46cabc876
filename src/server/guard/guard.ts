import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { plainPage } from '../plain-page.ts'
import { guardHeaders } from './headers.ts'
import {
  type Asked,
  isAheadOfTime,
  noSession,
  type Refusal,
  refusalOfOrigin,
  usedKey,
  wantsPage,
} from './refusal.ts'
import type { Session } from './session.ts'

/** Known once the server listens, since the port is the machine's choice: until then every request is turned away. */
export interface GuardState {
  hosts: ReadonlySet<string>
  session: Session | null
}

export const askedOf = ({ method, url, headers }: FastifyRequest): Asked => ({
  method,
  path: url.split('?', 1)[0] ?? '',
  headers,
})

function turnAway(reply: FastifyReply, asked: Asked, refusal: Refusal): FastifyReply {
  const { status, code, text } = refusal
  reply.code(status)
  if (!wantsPage(asked)) return reply.send({ error: { code, text } })
  return reply.type('text/html; charset=utf-8').send(
    plainPage({
      title: code === 'used-key' ? 'This address has been used' : 'Not let in',
      sentences: [text],
      link: status === 401 ? { href: '/', text: 'This browser has the desk open already' } : null,
    }),
  )
}

/** The key in `/?key=…`; undefined for any other request. */
function keyOf(request: FastifyRequest): string | undefined {
  if (request.method !== 'GET') return undefined
  const url = new URL(request.url, 'http://desk')
  return url.pathname === '/' ? (url.searchParams.get('key') ?? undefined) : undefined
}

function redeem(request: FastifyRequest, reply: FastifyReply, session: Session, key: string): FastifyReply {
  const asked = askedOf(request)
  // A browser that loads pages ahead of the person would use the key up; it asks again when the person comes.
  if (isAheadOfTime(request.headers)) return reply.code(503).send()
  if (session.heldBy(request.headers.cookie)) return reply.redirect('/', 303)
  const cookie = session.redeem(key)
  if (cookie === null) return turnAway(reply, asked, usedKey)
  return reply.header('set-cookie', cookie).redirect('/', 303)
}

/** Stands before every route, the unknown ones too: right place of origin, then the session. docs/methods/guard.md */
export function installGuard(
  app: FastifyInstance,
  state: GuardState,
  /** The one foreign server that the page may ask for a base map; null for none. */
  mapOrigin: () => string | null,
): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(guardHeaders(mapOrigin()))
    const asked = askedOf(request)
    const refusal = refusalOfOrigin(asked, state.hosts)
    if (refusal) return turnAway(reply, asked, refusal)
    if (!state.session) return turnAway(reply, asked, noSession)
    const key = keyOf(request)
    if (key !== undefined) return redeem(request, reply, state.session, key)
    if (!state.session.heldBy(request.headers.cookie)) return turnAway(reply, asked, noSession)
    return undefined
  })
}
