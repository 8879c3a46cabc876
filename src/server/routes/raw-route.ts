import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import * as z from 'zod'
import { lastPart } from '../file-names.ts'
import { tooLarge, type UploadPlace, withUpload } from '../upload.ts'

/** The name of a file that is sent, without any folders. */
export const fileNameShape = z.string().max(1000).transform(lastPart).pipe(z.string().min(1))

interface RawParts {
  /** POST where it is left out. */
  readonly method?: 'POST' | 'PUT'
  readonly place: UploadPlace
  /** Holds every upload under way, so that a closing server can wait until its temporary file is gone. */
  readonly running: Set<Promise<unknown>>
}

/** A route whose body is a file's bytes, whatever type it is said to have: `use` gets it as a file, which is gone afterwards. */
export function rawRoute<Reply>(
  app: FastifyInstance,
  url: string,
  { method = 'POST', place, running }: RawParts,
  nameOf: (request: FastifyRequest) => string,
  use: (request: FastifyRequest, path: string, reply: FastifyReply) => Promise<Reply>,
): void {
  async function handle(request: FastifyRequest, reply: FastifyReply): Promise<Reply> {
    const name = nameOf(request)
    if (Number(request.headers['content-length']) > place.limitBytes) throw tooLarge(name, place.limitBytes)
    const work = withUpload(request.raw, name, place, (path) => use(request, path, reply))
    running.add(work)
    try {
      return await work
    } finally {
      running.delete(work)
    }
  }
  app.register(async (raw) => {
    // The body is read by the handler as it comes.
    raw.addHook('onRequest', async ({ headers }) => {
      headers['content-type'] = 'application/octet-stream'
    })
    raw.removeAllContentTypeParsers()
    raw.addContentTypeParser('*', (_request, _payload, done) => done(null, undefined))
    raw.route({ method, url, handler: handle })
  })
}
