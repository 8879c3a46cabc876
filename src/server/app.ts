import { type FastifyInstance, fastify } from 'fastify'
import type { DeskService } from '#service'
import { deskFiles, fieldFiles } from './desk-files.ts'
import { answerUnknownPaths, errorAnswer, frameworkErrorAnswer } from './error-reply.ts'
import { type GuardState, installGuard } from './guard/guard.ts'
import { areaRoutes } from './routes/areas.ts'
import { baseMapRoutes } from './routes/base-maps.ts'
import { coverRoutes } from './routes/cover.ts'
import { eventRoutes } from './routes/events.ts'
import { exportRoutes } from './routes/export.ts'
import { findRoutes } from './routes/finds.ts'
import { importRoutes } from './routes/import.ts'
import { jobRoutes } from './routes/jobs.ts'
import { landRoutes } from './routes/land.ts'
import { layerRoutes } from './routes/layers.ts'
import { markRoutes } from './routes/marks.ts'
import { placeRoutes } from './routes/places.ts'
import { planRoutes } from './routes/plans.ts'
import { surveyRoutes } from './routes/survey.ts'
import { surveysRoutes } from './routes/surveys.ts'
import { trackRoutes } from './routes/tracks.ts'
import { photographMatchRoutes, visitRoutes } from './routes/visits.ts'
import type { UploadPlace } from './upload.ts'

export interface AppParts {
  readonly service: DeskService
  readonly deskFolder: string
  /** Undefined: the field page is not served. */
  readonly fieldFolder: string | undefined
  readonly guard: GuardState
  readonly upload: UploadPlace
  readonly heartbeatMs: number
  readonly complain: (details: string) => void
  /** Filled with the imports under way. */
  readonly running: Set<Promise<unknown>>
  /** Called with each route as it is made. */
  readonly onRoute?: (route: { method: string | string[]; url: string }) => void
}

/** JSON bodies; an empty body with the JSON type (a DELETE, an undo) is no body and no fault. */
function takeJson(app: FastifyInstance): void {
  const parseJson = app.getDefaultJsonParser('error', 'error')
  app.removeAllContentTypeParsers()
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (request, body, done) => {
    if (body.length === 0) done(null, undefined)
    else parseJson(request, String(body), done)
  })
}

/** The guard, every route, and the answers to errors; not yet listening. */
export function createApp(parts: AppParts): FastifyInstance {
  const { service, complain } = parts
  const answer = errorAnswer(complain)
  const app = fastify({
    logger: false,
    exposeHeadRoutes: false,
    forceCloseConnections: true,
    return503OnClosing: false,
    routerOptions: { maxParamLength: 200 },
    frameworkErrors: frameworkErrorAnswer(answer),
  })
  if (parts.onRoute) app.addHook('onRoute', parts.onRoute)
  installGuard(app, parts.guard, () => service.baseMaps.shownOrigin())
  app.setErrorHandler(answer)
  answerUnknownPaths(app)
  takeJson(app)
  surveyRoutes(app, service)
  trackRoutes(app, service)
  visitRoutes(app, service, complain)
  photographMatchRoutes(app, service, parts.upload, parts.running)
  areaRoutes(app, service)
  coverRoutes(app, service, complain)
  jobRoutes(app, service)
  importRoutes(app, service, parts.upload, parts.running)
  layerRoutes(app, service)
  markRoutes(app, service, complain)
  landRoutes(app, service, parts.upload, parts.running)
  planRoutes(app, service)
  baseMapRoutes(app, service)
  findRoutes(app, service, parts.upload, parts.running)
  eventRoutes(app, service, parts.heartbeatMs)
  exportRoutes(app, service)
  placeRoutes(app, service)
  surveysRoutes(app, service)
  deskFiles(app, parts.deskFolder)
  if (parts.fieldFolder !== undefined) fieldFiles(app, parts.fieldFolder)
  return app
}
