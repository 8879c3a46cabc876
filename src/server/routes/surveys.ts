import type { FastifyInstance } from 'fastify'
import { newSurveyShape, openSurveyShape } from '#contract'
import { SurveyError } from '#core/faults'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'

export function surveysRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/surveys', () => service.surveys())
  app.post('/api/surveys', ({ body }, reply) =>
    reply.code(201).send(service.newSurvey(parse(newSurveyShape, body))),
  )
  app.post('/api/surveys/open', ({ body }) => {
    const { file } = parse(openSurveyShape, body)
    // A page may open what the list offers, and no other file of this machine.
    if (!service.surveys().surveys.some((survey) => survey.file === file)) {
      throw new SurveyError('survey-missing', `There is no survey ${file} in the folder of surveys.`)
    }
    return service.openSurvey(file)
  })
}
