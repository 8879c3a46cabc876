import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'

const textShape = z.object({ text: z.string().min(1).max(200) })
const pairShape = z
  .string()
  .regex(/^-?\d+(\.\d+)?,-?\d+(\.\d+)?$/, 'easting and northing in metres with a comma between')
  .transform((text) => text.split(',').map(Number) as [number, number])
const lineShape = z.object({ from: pairShape, to: pairShape })
const gridShape = z.object({ epsg: z.number().int() })

export function placeRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/places', ({ query }) => service.place(parse(textShape, query).text))
  app.get('/api/line', ({ query }) => {
    const { from, to } = parse(lineShape, query)
    return service.line(from, to)
  })
  app.post('/api/grid', ({ body }) => service.startGrid(parse(gridShape, body).epsg))
}
