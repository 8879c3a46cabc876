import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import * as z from 'zod'
import type { ImportedFile } from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import { tooLarge, type UploadPlace, withUpload } from '../upload.ts'
import { nameShape, takeBytes } from './raw-body.ts'

const queryShape = z.object({
  name: nameShape,
  together: z.union([nameShape.transform((name) => [name]), z.array(nameShape).max(10_000)]).default([]),
})

/** Reads the file at `path`; a sender who goes away before the end takes the work back. */
async function importFile(
  service: DeskService,
  name: string,
  together: readonly string[],
  path: string,
  reply: FastifyReply,
): Promise<ImportedFile> {
  const { job, done } = service.startImport(name, path, together)
  const gone = (): void => {
    if (!reply.raw.writableFinished) service.cancel(job)
  }
  reply.raw.once('close', gone)
  if (reply.raw.destroyed) gone()
  try {
    return await done
  } finally {
    reply.raw.off('close', gone)
  }
}

/** `running` holds every import under way, so that a closing server can wait until its temporary file is gone. */
export function importRoutes(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  async function handle(request: FastifyRequest, reply: FastifyReply): Promise<ImportedFile> {
    const { name, together } = parse(queryShape, request.query)
    if (Number(request.headers['content-length']) > place.limitBytes) throw tooLarge(name, place.limitBytes)
    const work = withUpload(request.raw, name, place, (path) =>
      importFile(service, name, together, path, reply),
    )
    running.add(work)
    try {
      return await work
    } finally {
      running.delete(work)
    }
  }
  app.register(async (raw) => {
    takeBytes(raw)
    raw.post('/api/import', handle)
  })
}
