import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import {
  constraintEditShape,
  constraintWishesShape,
  newGroundNoteShape,
  newPermissionShape,
  permissionEditShape,
} from '#contract'
import type { DeskService } from '#service'
import { parse } from '../parse.ts'
import type { UploadPlace } from '../upload.ts'
import { sendFile } from './export.ts'
import { idShape } from './id.ts'
import { fileNameShape, rawRoute } from './raw-route.ts'

const agreementQuery = z.object({ name: fileNameShape, inside: z.stringbool().default(true) })
const constraintsQuery = constraintWishesShape.extend({ name: fileNameShape })

/** A boundary of a quarter of a million corners, written out, is some ten million bytes. */
const bodyLimit = 16 * 1024 * 1024

export function landRoutes(
  app: FastifyInstance,
  service: DeskService,
  place: UploadPlace,
  running: Set<Promise<unknown>>,
): void {
  app.get('/api/permissions', () => service.land.permissions())
  app.post('/api/permissions', { bodyLimit }, ({ body }, reply) =>
    reply.code(201).send(service.land.addPermission(parse(newPermissionShape, body))),
  )
  app.patch('/api/permissions/:id', { bodyLimit }, ({ params, body }) =>
    service.land.changePermission(parse(idShape, params).id, parse(permissionEditShape, body)),
  )
  app.delete('/api/permissions/:id', ({ params }, reply) => {
    service.land.removePermission(parse(idShape, params).id)
    return reply.code(204).send()
  })
  app.post('/api/permissions/:id/notes', ({ params, body }, reply) =>
    reply.code(201).send(service.land.addNote(parse(idShape, params).id, parse(newGroundNoteShape, body))),
  )
  app.delete('/api/notes/:id', ({ params }, reply) => {
    service.land.removeNote(parse(idShape, params).id)
    return reply.code(204).send()
  })
  app.get('/api/permissions/:id/agreement', ({ params }, reply) =>
    sendFile(reply, service.land.agreement(parse(idShape, params).id)),
  )
  app.delete('/api/permissions/:id/agreement', ({ params }) =>
    service.land.detachAgreement(parse(idShape, params).id),
  )
  app.get('/api/constraints', () => service.land.constraints())
  app.patch('/api/constraints/:id', ({ params, body }, reply) => {
    service.land.changeConstraints(parse(idShape, params).id, parse(constraintEditShape, body))
    return reply.code(204).send()
  })
  app.delete('/api/constraints/:id', ({ params }, reply) => {
    service.land.removeConstraints(parse(idShape, params).id)
    return reply.code(204).send()
  })
  app.get('/api/clashes', () => service.land.clashes())
  rawRoute(
    app,
    '/api/permissions/:id/agreement',
    { method: 'PUT', place, running },
    ({ query }) => parse(agreementQuery, query).name,
    async ({ params, query }, file) => {
      const { name, inside } = parse(agreementQuery, query)
      return service.land.attachAgreement(parse(idShape, params).id, name, file, inside)
    },
  )
  rawRoute(
    app,
    '/api/constraints',
    { place, running },
    ({ query }) => parse(constraintsQuery, query).name,
    ({ query }, file) => {
      const { name, ...wishes } = parse(constraintsQuery, query)
      return service.land.startConstraints(name, file, wishes).done
    },
  )
}
