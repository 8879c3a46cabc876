import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { layerEditShape, placingShape } from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import { idShape } from './id.ts'
import { askedView, sendTile, signalOf, viewQuery } from './layer-tiles.ts'

const whole = z.coerce.number().int().min(0).max(10_000_000)
const tileShape = z.object({
  id: z.coerce.number().int().nonnegative(),
  level: z.coerce.number().int().min(0).max(30),
  column: whole,
  row: whole,
})

const viewQueryShape = z.strictObject(viewQuery)

export function layerRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/layers', () => service.layers.list())
  app.patch('/api/layers/:id', ({ params, body }) =>
    service.layers.change(parse(idShape, params).id, parse(layerEditShape, body)),
  )
  app.delete('/api/layers/:id', ({ params }, reply) => {
    service.layers.remove(parse(idShape, params).id)
    return reply.code(204).send()
  })
  app.post('/api/layers/:id/placing', ({ params, body }) =>
    service.layers.place(parse(idShape, params).id, parse(placingShape, body)),
  )
  app.post('/api/layers/:id/inside', ({ params }) => service.layers.keepInside(parse(idShape, params).id))
  const tiles = { tiles: 'tile', picture: 'pictureTile' } as const
  for (const [name, ask] of Object.entries(tiles) as [keyof typeof tiles, 'tile' | 'pictureTile'][]) {
    app.get(`/api/layers/:id/${name}/:level/:column/:row(^\\d+).png`, async (request, reply) => {
      const { id, ...at } = parse(tileShape, request.params)
      const { v, ...query } = parse(viewQueryShape, request.query)
      const asked = askedView(query)
      return sendTile(request, reply, await service.layers[ask](id, at, asked, signalOf(reply)), v)
    })
  }
}
