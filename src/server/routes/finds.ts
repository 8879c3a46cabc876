import type { FastifyInstance, FastifyReply } from 'fastify'
import * as z from 'zod'
import {
  bulkEditShape,
  findEditShape,
  findIdsShape,
  findsExportShape,
  joinEditShape,
  joinedFindsShape,
  labelsRequestShape,
  newEventShape,
  newFindShape,
  numberNoteShape,
  photographEditShape,
  proposeJoinsShape,
} from '#contract'
import { photographRoles } from '#core/finds'
import type { DeskService } from '#service'
import { BadRequest } from '../error-reply.ts'
import { parse } from '../parse.ts'
import type { UploadPlace } from '../upload.ts'
import { sendFile } from './export.ts'
import { idShape } from './id.ts'
import { fileNameShape, rawRoute } from './raw-route.ts'

/** A change of 200,000 finds names each. */
const bodyLimit = 4 * 1024 * 1024

const namedShape = z.object({ text: z.string().min(1).max(2000) })
const photographQueryShape = z.object({ name: fileNameShape, role: z.enum(photographRoles).default('other') })
const sizeShape = z.object({ size: z.enum(['small', 'screen']).default('screen') })

const sendNothing = (reply: FastifyReply): FastifyReply => reply.code(204).send()

export function findRoutes(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  app.get('/api/finds', () => service.finds.list())
  app.post('/api/finds', ({ body }, reply) =>
    reply.code(201).send(service.finds.add(parse(newFindShape, body))),
  )
  app.patch('/api/finds', { bodyLimit }, ({ body }, reply) => {
    service.finds.changeMany(parse(bulkEditShape, body))
    return sendNothing(reply)
  })
  app.post('/api/finds/remove', { bodyLimit }, ({ body }, reply) => {
    service.finds.remove(parse(findIdsShape, body).ids)
    return sendNothing(reply)
  })
  app.get('/api/finds/named', ({ query }) => service.finds.named(parse(namedShape, query).text))
  app.post('/api/finds/events', { bodyLimit }, ({ body }, reply) => {
    service.finds.addEvent(parse(newEventShape, body))
    return sendNothing(reply)
  })
  app.get('/api/finds/numbers', () => service.finds.numbers())
  app.post('/api/finds/numbers', ({ body }, reply) => {
    service.finds.noteNumber(parse(numberNoteShape, body))
    return sendNothing(reply)
  })
  app.post('/api/finds/labels', async ({ body }, reply) =>
    sendFile(reply, await service.finds.labels(parse(labelsRequestShape, body))),
  )
  app.post('/api/finds/export', { bodyLimit }, async ({ body }, reply) =>
    sendFile(reply, await service.finds.export(parse(findsExportShape, body))),
  )
  app.get('/api/finds/:id', ({ params }) => service.finds.one(parse(idShape, params).id))
  app.patch('/api/finds/:id', ({ params, body }) =>
    service.finds.change(parse(idShape, params).id, parse(findEditShape, body)),
  )
  app.get('/api/finds/:id/history', ({ params }) => service.finds.history(parse(idShape, params).id))
  app.get('/api/vocabularies', () => service.finds.vocabularies())
  tableRoute(app, service, place, running)
  wordRoutes(app, service, place, running)
  photographRoutes(app, service, place, running)
  app.get('/api/joins', () => service.finds.joins())
  app.post('/api/joins/propose', ({ body }) => service.finds.proposeJoins(parse(proposeJoinsShape, body)))
  app.post('/api/joins/together', ({ body }, reply) => {
    service.finds.joinTogether(parse(joinedFindsShape, body).ids)
    return sendNothing(reply)
  })
  app.post('/api/joins/part', ({ body }, reply) => {
    service.finds.part(parse(joinedFindsShape, body).ids)
    return sendNothing(reply)
  })
  app.put('/api/joins', ({ body }, reply) => {
    service.finds.changeJoin(parse(joinEditShape, body))
    return sendNothing(reply)
  })
}

const tableQueryShape = z.object({
  name: fileNameShape,
  write: z.enum(['yes', 'no']).default('no'),
  empty: z.enum(['keep', 'clear']).default('keep'),
  /** JSON: how the columns are to be read. */
  columns: z.string().max(100_000).optional(),
})
const columnsShape = z
  .array(
    z.strictObject({
      heading: z.string(),
      column: z.string().max(60).nullable(),
      unit: z.string().max(10).nullable(),
    }),
  )
  .max(1000)

function columnsOf(text: string | undefined) {
  if (text === undefined) return undefined
  try {
    return parse(columnsShape, JSON.parse(text))
  } catch (error) {
    if (error instanceof SyntaxError)
      throw new BadRequest('The request was not understood: columns is no JSON.')
    throw error
  }
}

function tableRoute(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  rawRoute(
    app,
    '/api/finds/table',
    { place, running },
    ({ query }) => parse(tableQueryShape, query).name,
    ({ query }, path) => {
      const { name, write, empty, columns } = parse(tableQueryShape, query)
      const wishes = { write: write === 'yes', emptyCells: empty, columns: columnsOf(columns) }
      return service.finds.table(name, path, wishes)
    },
  )
}

const wordsQueryShape = z.object({ name: fileNameShape })

function wordRoutes(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  app.get('/api/finds/words', (_request, reply) =>
    // A null would be sent as no body at all.
    reply.type('application/json; charset=utf-8').send(JSON.stringify(service.finds.objectList())),
  )
  rawRoute(
    app,
    '/api/finds/words',
    { place, running },
    ({ query }) => parse(wordsQueryShape, query).name,
    ({ query }, path) => service.finds.takeObjectList(parse(wordsQueryShape, query).name, path),
  )
  app.delete('/api/finds/words', (_request, reply) => {
    service.finds.dropObjectList()
    return sendNothing(reply)
  })
}

function photographRoutes(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  rawRoute(
    app,
    '/api/finds/:id/photographs',
    { place, running },
    ({ query }) => parse(photographQueryShape, query).name,
    ({ params, query }, path) => {
      const { name, role } = parse(photographQueryShape, query)
      return service.finds.addPhotograph(parse(idShape, params).id, name, role, path)
    },
  )
  app.get('/api/photographs/:id/picture', async ({ params, query }, reply) => {
    const { size } = parse(sizeShape, query)
    const bytes = await service.finds.picture(parse(idShape, params).id, size)
    reply.header('cache-control', 'private, no-cache').type('image/jpeg')
    return reply.send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength))
  })
  app.patch('/api/photographs/:id', ({ params, body }) =>
    service.finds.changePhotograph(parse(idShape, params).id, parse(photographEditShape, body)),
  )
  app.delete('/api/photographs/:id', ({ params }, reply) => {
    service.finds.removePhotograph(parse(idShape, params).id)
    return sendNothing(reply)
  })
}
