import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { settingsShape } from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'

const { swathM, cellM, maxJumpM, maxJumpS, minGapM2 } = settingsShape.shape

/** Any of the settings, and nothing else. */
const settingsPatchShape = z.strictObject({
  swathM: swathM.exactOptional(),
  cellM: cellM.exactOptional(),
  maxJumpM: maxJumpM.exactOptional(),
  maxJumpS: maxJumpS.exactOptional(),
  minGapM2: minGapM2.exactOptional(),
} satisfies Record<keyof typeof settingsShape.shape, z.ZodType>)

export function surveyRoutes(app: FastifyInstance, service: DeskService): void {
  app.get('/api/survey', () => service.view())
  app.get('/api/findspots', () => service.findspots())
  app.get('/api/gaps', () => service.gaps())
  app.patch('/api/settings', ({ body }) =>
    service.changeSettings(parse(settingsPatchShape, body, 'setting-out-of-range')),
  )
  app.post('/api/undo', () => service.undo())
}
