import { createHash } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import * as z from 'zod'
import { type LayerView, layerEditShape, layerViewShape, placingShape } from '#contract'
import type { DeskService, LayerTile } from '#service'
import { parse } from '../parse.ts'
import { idShape } from './id.ts'

const whole = z.coerce.number().int().min(0).max(10_000_000)
const tileShape = z.object({
  id: z.coerce.number().int().nonnegative(),
  level: z.coerce.number().int().min(0).max(30),
  column: whole,
  row: whole,
})

const number = z.coerce.number().exactOptional()
const { view } = layerViewShape.shape
/** A view as a query has it; `v` is the layer's stamp, as the page knows it. */
const viewQueryShape = z.strictObject({
  v: z.string().max(100).exactOptional(),
  view: view.exactOptional(),
  azimuth: number,
  altitude: number,
  exaggeration: number,
  radiusM: number,
  directions: number,
  number,
  cutPercent: number,
} satisfies Record<keyof LayerView | 'v', z.ZodType>)

/** Aborts when the one who asked has gone. */
function signalOf(reply: FastifyReply): AbortSignal {
  const gone = new AbortController()
  reply.raw.once('close', () => gone.abort())
  if (reply.raw.destroyed) gone.abort()
  return gone.signal
}

/** A tile under the layer's present stamp never changes; under another, or while only an overview is there, it is asked for anew. */
function sendTile(request: FastifyRequest, reply: FastifyReply, tile: LayerTile, stamp: string | undefined) {
  const hash = createHash('sha256').update(tile.png).digest('base64url').slice(0, 22)
  const etag = `"${hash}"`
  const kept = tile.whole && stamp === tile.stamp
  reply.header('etag', etag)
  reply.header('cache-control', kept ? 'private, max-age=31536000, immutable' : 'private, no-cache')
  if (request.headers['if-none-match'] === etag) return reply.code(304).send()
  const { buffer, byteOffset, byteLength } = tile.png
  return reply.type('image/png').send(Buffer.from(buffer, byteOffset, byteLength))
}

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
      const { v, view: seen, ...numbers } = parse(viewQueryShape, request.query)
      const asked = seen === undefined ? null : { view: seen, ...numbers }
      return sendTile(request, reply, await service.layers[ask](id, at, asked, signalOf(reply)), v)
    })
  }
}
