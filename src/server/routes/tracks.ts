import { endianness } from 'node:os'
import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import { idShape } from './id.ts'

const toleranceShape = z.object({ tolerance: z.coerce.number().min(0).max(100_000).default(0) })

/** The bytes of 64-bit floats, little-endian on every machine. No copy on a little-endian one. */
export function littleEndianBytes(values: Float64Array, order = endianness()): Buffer {
  const bytes = Buffer.from(values.buffer, values.byteOffset, values.byteLength)
  return order === 'LE' ? bytes : Buffer.from(bytes).swap64()
}

export function trackRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/tracks', () => service.tracks())
  app.get('/api/tracks/:id/line', ({ params, query }, reply) => {
    const line = service.trackLine(parse(idShape, params).id, parse(toleranceShape, query).tolerance)
    return reply.type('application/octet-stream').send(littleEndianBytes(line))
  })
}
