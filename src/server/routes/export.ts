import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { exportFormats, exportWhats } from '#contract'
import type { DeskService } from '#service'
import { attachment } from '../file-names.ts'
import { parse } from '../parse.ts'

const whatShape = z.object({ what: z.enum(exportWhats) })
const asShape = z.object({ as: z.enum(exportFormats) })

export function exportRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/export/:what', ({ params, query }, reply) => {
    const file = service.exportFile(parse(whatShape, params).what, parse(asShape, query).as)
    reply.header('content-disposition', attachment(file.fileName)).type(file.mediaType)
    return reply.send(Buffer.from(file.bytes.buffer, file.bytes.byteOffset, file.bytes.byteLength))
  })
}
