import type { FastifyInstance, FastifyReply } from 'fastify'
import * as z from 'zod'
import { exportFormats, exportWhats } from '#contract'
import type { DeskService, MadeFile } from '#service'
import { attachment } from '../file-names.ts'
import { parse } from '../parse.ts'

const whatShape = z.object({ what: z.enum(exportWhats) })
const asShape = z.object({ as: z.enum(exportFormats) })

export function sendFile(reply: FastifyReply, { bytes, fileName, mediaType }: MadeFile): FastifyReply {
  reply.header('content-disposition', attachment(fileName)).type(mediaType)
  return reply.send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength))
}

export function exportRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/export/:what', ({ params, query }, reply) =>
    sendFile(reply, service.exportFile(parse(whatShape, params).what, parse(asShape, query).as)),
  )
  app.get('/api/report/landowner.pdf', async (_request, reply) =>
    sendFile(reply, await service.landownerReport()),
  )
}
