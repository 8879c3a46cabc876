import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { SurveyError } from '#core/faults'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'

const jobIdShape = z.object({ id: z.string().min(1).max(200) })

export function jobRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/jobs', () => service.jobs())
  app.delete('/api/jobs/:id', ({ params }, reply) => {
    if (!service.cancel(parse(jobIdShape, params).id)) {
      throw new SurveyError('not-found', 'That work is not running: it has ended, or never began.')
    }
    return reply.code(204).send()
  })
}
