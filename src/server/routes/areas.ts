import type { FastifyInstance } from 'fastify'
import { areaEditShape } from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import { idShape } from './id.ts'

/** A search area of a quarter of a million corners, written out, is some ten million bytes. */
const bodyLimit = 16 * 1024 * 1024

export function areaRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/areas', () => service.areas())
  app.post('/api/areas', { bodyLimit }, ({ body }, reply) =>
    reply.code(201).send(service.addArea(parse(areaEditShape, body))),
  )
  app.put('/api/areas/:id', { bodyLimit }, ({ params, body }) =>
    service.changeArea(parse(idShape, params).id, parse(areaEditShape, body)),
  )
  app.delete('/api/areas/:id', ({ params }, reply) => {
    service.removeArea(parse(idShape, params).id)
    return reply.code(204).send()
  })
}
