import type { FastifyInstance, FastifyReply } from 'fastify'
import * as z from 'zod'
import { exportFormats, exportWhats, usualNameLength } from '#contract'
import type { DeskService, MadeFile } from '#service'
import { attachment } from '../file-names.ts'
import { parse } from '../parse.ts'

const whatShape = z.object({ what: z.enum(exportWhats) })
const asShape = z.object({
  as: z.enum(exportFormats),
  plan: z.coerce.number().int().exactOptional(),
  names: z.coerce.number().int().min(1).max(255).exactOptional(),
  ascii: z.stringbool().default(false),
})

export function sendFile(reply: FastifyReply, { bytes, fileName, mediaType }: MadeFile): FastifyReply {
  reply.header('content-disposition', attachment(fileName)).type(mediaType)
  return reply.send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength))
}

export function exportRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/export/:what', ({ params, query }, reply) => {
    const { as, plan, names, ascii } = parse(asShape, query)
    const limits = names === undefined && !ascii ? {} : { names: { length: names ?? usualNameLength, ascii } }
    const wishes = { ...(plan === undefined ? {} : { plan }), ...limits }
    return sendFile(reply, service.exportFile(parse(whatShape, params).what, as, wishes))
  })
  app.get('/api/report/landowner.pdf', async (_request, reply) =>
    sendFile(reply, await service.landownerReport()),
  )
}
