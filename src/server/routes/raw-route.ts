import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { tooLarge, type UploadPlace, withUpload } from '../upload.ts'
import { takeBytes } from './raw-body.ts'

interface RawParts {
  readonly place: UploadPlace
  /** Holds every upload under way, so that a closing server can wait until its temporary file is gone. */
  readonly running: Set<Promise<unknown>>
}

/** A POST whose body is a file's bytes, whatever type it is said to have: `use` gets it as a file, which is gone afterwards. */
export function rawRoute<Reply>(
  app: FastifyInstance,
  url: string,
  { place, running }: RawParts,
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
    takeBytes(raw)
    raw.post(url, handle)
  })
}
