import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { isSurveyError } from '#core/faults'
import { askedOf } from './guard/guard.ts'
import { guardHeaders } from './guard/headers.ts'
import { wantsPage } from './guard/refusal.ts'
import { httpStatus } from './http-status.ts'
import { plainPage } from './plain-page.ts'

interface Answer {
  readonly status: number
  readonly code: string
  readonly text: string
}

/** A request that does not have the shape its route needs. `code` may be a fault's own, where one says it better. */
export class BadRequest extends Error {
  override readonly name = 'BadRequest'
  readonly code: string

  constructor(sentence: string, code = 'bad-request') {
    super(sentence)
    this.code = code
  }
}

const ofFastify: Readonly<Record<string, string>> = {
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'The body must be JSON, with content-type application/json.',
  FST_ERR_CTP_INVALID_JSON_BODY: 'The body is not valid JSON.',
  FST_ERR_CTP_BODY_TOO_LARGE: 'The body is larger than this route takes.',
  FST_ERR_BAD_URL: 'The address is not a valid one.',
}

const unexpected: Answer = {
  status: 500,
  code: 'unexpected',
  text: 'Something went wrong inside Lynchet. The details are in the terminal in which it was started.',
}

/** Null for an error nobody foresaw. */
function foreseen(error: unknown): Answer | null {
  if (error instanceof BadRequest) return { status: 400, code: error.code, text: error.message }
  if (isSurveyError(error)) {
    return { status: httpStatus[error.code] ?? 500, code: error.code, text: error.message }
  }
  const { statusCode, code } = error as Partial<FastifyError>
  if (statusCode === undefined || statusCode >= 500) return null
  const text = ofFastify[code ?? ''] ?? 'The request was not understood.'
  return { status: statusCode, code: 'bad-request', text }
}

/** What went wrong and where, for the terminal. */
export function detailsOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error)
}

function send(request: FastifyRequest, reply: FastifyReply, answer: Answer): FastifyReply {
  reply.code(answer.status)
  if (!wantsPage(askedOf(request))) {
    return reply.type('application/json').send({ error: { code: answer.code, text: answer.text } })
  }
  const title = answer.status === 404 ? 'No such page' : 'This cannot be shown'
  const page = plainPage({
    title,
    sentences: [answer.text],
    link: { href: '/', text: 'Go to the desk' },
  })
  return reply.type('text/html; charset=utf-8').send(page)
}

export type ErrorAnswer = (error: unknown, request: FastifyRequest, reply: FastifyReply) => FastifyReply

/** Turns whatever was thrown into `{error: {code, text}}`, or a page for a browser's address bar. */
export function errorAnswer(complain: (details: string) => void): ErrorAnswer {
  return (error, request, reply) => {
    const answer = foreseen(error)
    if (answer === null) {
      complain(`${request.method} ${request.routeOptions.url ?? 'unknown address'}: ${detailsOf(error)}`)
    }
    return send(request, reply, answer ?? unexpected)
  }
}

/** For errors met before any route or hook runs (an address that cannot be decoded): the guard's headers go on here. */
export function frameworkErrorAnswer(answer: ErrorAnswer): ErrorAnswer {
  return (error, request, reply) => answer(error, request, reply.headers(guardHeaders(null)))
}

export function answerUnknownPaths(app: FastifyInstance): void {
  app.setNotFoundHandler((request, reply) => {
    const text = 'There is nothing at this address.'
    return send(request, reply, { status: 404, code: 'no-such-address', text })
  })
}
