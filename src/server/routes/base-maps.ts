import type { FastifyInstance } from 'fastify'
import { baseMapsShape } from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'

export function baseMapRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/base-maps', () => service.baseMaps.list())
  app.put('/api/base-maps', ({ body }) =>
    service.baseMaps.keep(parse(baseMapsShape, body, 'setting-out-of-range')),
  )
  // The same for ever: the shift grid of a country does not change.
  app.get('/api/shift-grid', (_, reply) => {
    const { buffer, byteOffset, byteLength } = service.shiftGrid()
    return reply
      .header('cache-control', 'private, max-age=31536000, immutable')
      .type('application/octet-stream')
      .send(Buffer.from(buffer, byteOffset, byteLength))
  })
}
