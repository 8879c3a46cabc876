import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { lastPart } from '../file-names.ts'

/** The name of a file that is sent, without any folders. */
export const fileNameShape = z.string().max(1000).transform(lastPart).pipe(z.string().min(1))

/** Bodies are bytes, whatever type they are said to have, and are read by the handlers as they come. */
export function takeBytes(raw: FastifyInstance): void {
  raw.addHook('onRequest', async ({ headers }) => {
    headers['content-type'] = 'application/octet-stream'
  })
  raw.removeAllContentTypeParsers()
  raw.addContentTypeParser('*', (_request, _payload, done) => done(null, undefined))
}
