import type { FastifyInstance, FastifyReply } from 'fastify'
import * as z from 'zod'
import type { ImportedFile } from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import type { UploadPlace } from '../upload.ts'
import { fileNameShape, rawRoute } from './raw-route.ts'

const queryShape = z.object({
  name: fileNameShape,
  together: z
    .union([fileNameShape.transform((name) => [name]), z.array(fileNameShape).max(10_000)])
    .default([]),
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
  rawRoute(
    app,
    '/api/import',
    { place, running },
    ({ query }) => parse(queryShape, query).name,
    ({ query }, path, reply) => {
      const { name, together } = parse(queryShape, query)
      return importFile(service, name, together, path, reply)
    },
  )
}
