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
import { type UploadPlace, withUpload } from '../upload.ts'
import { sendFile } from './export.ts'
import { idShape } from './id.ts'
import { fileNameShape, takeBytes } from './raw-body.ts'

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
  const held = async <Result>(work: Promise<Result>): Promise<Result> => {
    running.add(work)
    try {
      return await work
    } finally {
      running.delete(work)
    }
  }
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
  app.register(async (raw) => {
    takeBytes(raw)
    raw.put('/api/permissions/:id/agreement', ({ params, query, raw: body }) => {
      const { id } = parse(idShape, params)
      const { name, inside } = parse(agreementQuery, query)
      const attach = async (file: string) => service.land.attachAgreement(id, name, file, inside)
      return held(withUpload(body, name, place, attach))
    })
    raw.post('/api/constraints', ({ query, raw: body }) => {
      const { name, ...wishes } = parse(constraintsQuery, query)
      return held(
        withUpload(body, name, place, (file) => service.land.startConstraints(name, file, wishes).done),
      )
    })
  })
}
