import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import {
  bearingWishesShape,
  newPlanShape,
  packWishesShape,
  planEditShape,
  planWishesShape,
  usualNameLength,
} from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import { sendFile } from './export.ts'
import { idShape } from './id.ts'
import { signalOf } from './layer-tiles.ts'

const dayQuery = z.object({ day: z.iso.date().exactOptional() })
const namesQuery = z.object({
  names: z.coerce.number().int().min(1).max(255).default(usualNameLength),
  ascii: z.stringbool().default(false),
})

/** `layers` by their ids with commas between. */
const packQuery = z.object({
  layers: z
    .string()
    .regex(/^\d+(,\d+)*$/)
    .transform((ids) => ids.split(',').map(Number))
    .exactOptional(),
  sidePx: z.coerce.number().exactOptional(),
  mostMb: z.coerce.number().exactOptional(),
  marginM: z.coerce.number().exactOptional(),
})

export function planRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/plans', () => service.plans.list())
  app.post('/api/plans', async ({ body }, reply) =>
    reply.code(201).send(await service.plans.keep(parse(newPlanShape, body))),
  )
  app.post('/api/plans/preview', ({ body }, reply) =>
    service.plans.preview(parse(planWishesShape, body), signalOf(reply)),
  )
  app.post('/api/plans/bearing', ({ body }, reply) =>
    service.plans.bearing(parse(bearingWishesShape, body), signalOf(reply)),
  )
  app.get('/api/plans/:id/lanes', ({ params }) => service.plans.lanes(parse(idShape, params).id))
  app.patch('/api/plans/:id', ({ params, body }) =>
    service.plans.rename(parse(idShape, params).id, parse(planEditShape, body).name),
  )
  app.delete('/api/plans/:id', ({ params }, reply) => {
    service.plans.remove(parse(idShape, params).id)
    return reply.code(204).send()
  })
  app.get('/api/plans/:id/handheld.gpx', ({ params, query }, reply) => {
    const { names, ascii } = parse(namesQuery, query)
    return sendFile(reply, service.plans.handheld(parse(idShape, params).id, { length: names, ascii }))
  })
  app.get('/api/plans/:id/pack.zip', async ({ params, query }, reply) =>
    sendFile(
      reply,
      await service.plans.pack(
        parse(idShape, params).id,
        parse(packWishesShape, parse(packQuery, query)),
        signalOf(reply),
      ),
    ),
  )
  app.get('/api/plans/:id/sheet.pdf', async ({ params }, reply) =>
    sendFile(reply, await service.plans.sheet(parse(idShape, params).id)),
  )
  app.get('/api/light', ({ query }) => service.plans.light(parse(dayQuery, query).day ?? null))
}
