import { createHash } from 'node:crypto'
import type { FastifyReply, FastifyRequest } from 'fastify'
import * as z from 'zod'
import { type LayerView, layerViewShape } from '#contract'
import type { LayerTile } from '#service'

const number = z.coerce.number().exactOptional()
const { view } = layerViewShape.shape
/** A view as a query has it; `v` is the layer's stamp, as the page knows it. */
export const viewQuery = {
  v: z.string().max(100).exactOptional(),
  view: view.exactOptional(),
  azimuth: number,
  altitude: number,
  exaggeration: number,
  radiusM: number,
  directions: number,
  number,
  cutPercent: number,
} satisfies Record<keyof LayerView | 'v', z.ZodType>

/** The view that a query asks for; null without one. */
export function askedView(query: Partial<LayerView>): LayerView | null {
  const { view: seen, ...numbers } = query
  return seen === undefined ? null : { view: seen, ...numbers }
}

/** Aborts when the one who asked has gone. */
export function signalOf(reply: FastifyReply): AbortSignal {
  const gone = new AbortController()
  reply.raw.once('close', () => gone.abort())
  if (reply.raw.destroyed) gone.abort()
  return gone.signal
}

/** A tile under the layer's present stamp never changes; under another, or while only an overview is there, it is asked for anew. */
export function sendTile(
  request: FastifyRequest,
  reply: FastifyReply,
  tile: LayerTile,
  stamp: string | undefined,
) {
  const hash = createHash('sha256').update(tile.png).digest('base64url').slice(0, 22)
  const etag = `"${hash}"`
  const kept = tile.whole && stamp === tile.stamp
  reply.header('etag', etag)
  reply.header('cache-control', kept ? 'private, max-age=31536000, immutable' : 'private, no-cache')
  if (request.headers['if-none-match'] === etag) return reply.code(304).send()
  const { buffer, byteOffset, byteLength } = tile.png
  return reply.type('image/png').send(Buffer.from(buffer, byteOffset, byteLength))
}
