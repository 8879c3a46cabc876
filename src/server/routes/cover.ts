import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { isSurveyError, SurveyError } from '#core/faults'
import type { DeskService } from '#service'
import { detailsOf } from '../error-reply.ts'
import { parse } from '../parse.ts'

const whole = z.coerce.number().int().min(0).max(10_000_000)
const tileShape = z.object({
  id: z.string().min(1).max(200),
  level: z.coerce.number().int().min(0).max(30),
  column: whole,
  row: whole,
})

export function coverRoutes(
  app: FastifyInstance,
  service: DeskService,
  complain: (details: string) => void,
): void {
  app.post('/api/cover', (_request, reply) => {
    const { job, done } = service.startCover()
    // The page is told by the job itself (GET /api/jobs, the event `job`); a defect is told in the terminal too.
    done.catch((error: unknown) => {
      if (!isSurveyError(error)) complain(`cover: ${detailsOf(error)}`)
    })
    return reply.code(202).send({ job })
  })
  app.get('/api/cover/:id/:level/:column/:row(^\\d+).png', async ({ params }, reply) => {
    const { id, level, column, row } = parse(tileShape, params)
    const png = await service.coverTile(id, level, column, row)
    if (!png) throw new SurveyError('not-found', 'There is no such piece of that cover.')
    // Another cover has another id, so what this address gives never changes.
    reply.header('cache-control', 'private, max-age=31536000, immutable')
    return reply.type('image/png').send(Buffer.from(png.buffer, png.byteOffset, png.byteLength))
  })
}
