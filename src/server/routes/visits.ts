import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import {
  chancesWishShape,
  gapsAreaShape,
  lanesWalkedWishShape,
  missedLanesShape,
  photographMatchWishShape,
  trackVisitShape,
  trackWalkedShape,
  visitEditShape,
} from '#contract'
import { isSurveyError, SurveyError } from '#core/faults'
import type { DeskService } from '#service'
import { detailsOf } from '../error-reply.ts'
import { parse } from '../parse.ts'
import type { UploadPlace } from '../upload.ts'
import { idShape } from './id.ts'
import { fileNameShape, rawRoute } from './raw-route.ts'
import { littleEndianBytes } from './tracks.ts'

const whole = z.coerce.number().int().min(0).max(10_000_000)
const tileShape = z.object({
  id: z.string().min(1).max(200),
  level: z.coerce.number().int().min(0).max(30),
  column: whole,
  row: whole,
})

export function visitRoutes(
  app: FastifyInstance,
  service: DeskService,
  complain: (details: string) => void,
): void {
  app.get('/api/visits', () => service.visits.list())
  app.patch('/api/visits/:id', ({ params, body }) =>
    service.visits.change(parse(idShape, params).id, parse(visitEditShape, body, 'setting-out-of-range')),
  )
  app.put('/api/tracks/:id/visit', ({ params, body }) =>
    service.visits.moveTrack(parse(idShape, params).id, parse(trackVisitShape, body).visit),
  )
  app.put('/api/tracks/:id/walked', ({ params, body }, reply) => {
    service.visits.countTrack(parse(idShape, params).id, parse(trackWalkedShape, body).walked)
    return reply.code(204).send()
  })
  app.get('/api/visits/:id/account', ({ params }) => service.visits.account(parse(idShape, params).id))
  app.get('/api/visits/:id/walk', async ({ params }, reply) => {
    const walk = await service.visits.walk(parse(idShape, params).id)
    return reply.type('application/octet-stream').send(littleEndianBytes(walk))
  })
  laneRoutes(app, service)
  chanceRoutes(app, service, complain)
}

/** Numbers of visits; left out for all. */
const ofShape = z.object({
  of: z
    .string()
    .max(100_000)
    .regex(/^\d+(,\d+)*$/)
    .transform((text) => text.split(',').map(Number))
    .nullable()
    .default(null),
})

function laneRoutes(app: FastifyInstance, service: DeskService): void {
  app.post('/api/visits/lanes', ({ body }) =>
    service.visits.lanesWalked(parse(lanesWalkedWishShape, body, 'setting-out-of-range')),
  )
  app.post('/api/visits/lanes/area', async ({ body }, reply) =>
    reply.code(201).send(await service.visits.missedArea(parse(missedLanesShape, body))),
  )
  app.post('/api/visits/lanes/plan', async ({ body }, reply) =>
    reply.code(201).send(await service.visits.missedPlan(parse(missedLanesShape, body))),
  )
}

function chanceRoutes(app: FastifyInstance, service: DeskService, complain: (details: string) => void): void {
  app.post('/api/visits/chances', ({ body }, reply) => {
    const { job, done } = service.visits.startChances(parse(chancesWishShape, body, 'setting-out-of-range'))
    // The page is told by the job itself; a defect is told in the terminal too.
    done.catch((error: unknown) => {
      if (!isSurveyError(error)) complain(`chances: ${detailsOf(error)}`)
    })
    return reply.code(202).send({ job })
  })
  app.get('/api/visits/chances', ({ query }, reply) => {
    const chances = service.visits.chances(parse(ofShape, query).of)
    return reply.type('application/json; charset=utf-8').send(JSON.stringify(chances))
  })
  app.get('/api/visits/chances/kept', () => service.visits.chancesKept())
  app.post('/api/visits/chances/area', ({ body }, reply) =>
    reply.code(201).send(service.visits.gapsArea(parse(gapsAreaShape, body))),
  )
  app.get('/api/visits/chances/:id/:level/:column/:row(^\\d+).png', async ({ params }, reply) => {
    const { id, level, column, row } = parse(tileShape, params)
    const png = await service.visits.chanceTile(id, level, column, row)
    if (!png) throw new SurveyError('not-found', 'There is no such piece of those chances.')
    // Other chances have another id, so what this address gives never changes.
    reply.header('cache-control', 'private, max-age=31536000, immutable')
    return reply.type('image/png').send(Buffer.from(png.buffer, png.byteOffset, png.byteLength))
  })
}

/** Two thousand photographs with all they say. */
const matchLimit = 4 * 1024 * 1024
const nameShape = z.object({ name: fileNameShape })

/** Photographs before they are attached to finds: what they say of themselves, and where they go. */
export function photographMatchRoutes(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  rawRoute(
    app,
    '/api/photographs/look',
    { place, running },
    ({ query }) => parse(nameShape, query).name,
    ({ query }, path) => service.visits.photographMoment(parse(nameShape, query).name, path),
  )
  app.post('/api/photographs/match', { bodyLimit: matchLimit }, ({ body }) =>
    service.visits.matchPhotographs(parse(photographMatchWishShape, body, 'setting-out-of-range')),
  )
}
