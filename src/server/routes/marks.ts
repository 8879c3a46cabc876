import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import {
  chipSideM,
  markEditShape,
  markSearchShape,
  newMarkShape,
  newTargetShape,
  soughtKindShape,
  targetEditShape,
} from '#contract'
import { isSurveyError } from '#core/faults'
import type { DeskService } from '#service'
import { detailsOf } from '../error-reply.ts'
import { parse } from '../parse.ts'
import { idShape } from './id.ts'
import { askedView, sendTile, signalOf, viewQuery } from './layer-tiles.ts'

const chipQueryShape = z.strictObject({
  ...viewQuery,
  layer: z.coerce.number().int().nonnegative(),
  side: z.coerce.number().min(chipSideM.least).max(chipSideM.most).exactOptional(),
  at: z.string().max(100).exactOptional(),
})

/** Of which search the candidates are; of all where it is left out. */
const undecidedQueryShape = z.strictObject({ kind: soughtKindShape.exactOptional() })

export function markRoutes(
  app: FastifyInstance,
  service: DeskService,
  complain: (details: string) => void,
): void {
  app.get('/api/marks', () => service.marks.list())
  app.post('/api/marks', ({ body }, reply) =>
    reply.code(201).send(service.marks.add(parse(newMarkShape, body))),
  )
  app.post('/api/marks/search', ({ body }, reply) => {
    const { job, done } = service.marks.search(parse(markSearchShape, body))
    // The page is told by the job itself (GET /api/jobs, the event `job`); a defect is told in the terminal too.
    done.catch((error: unknown) => {
      if (!isSurveyError(error)) complain(`marks: ${detailsOf(error)}`)
    })
    return reply.code(202).send({ job })
  })
  app.patch('/api/marks/:id', ({ params, body }) =>
    service.marks.change(parse(idShape, params).id, parse(markEditShape, body)),
  )
  app.delete('/api/marks/undecided', ({ query }) => ({
    removed: service.marks.removeUndecided(parse(undecidedQueryShape, query).kind ?? null),
  }))
  app.delete('/api/marks/:id', ({ params }, reply) => {
    service.marks.remove(parse(idShape, params).id)
    return reply.code(204).send()
  })
  app.get('/api/marks/:id/chip.png', async (request, reply) => {
    const { id } = parse(idShape, request.params)
    const { v, at, layer, side, ...query } = parse(chipQueryShape, request.query)
    const asked = { layerId: layer, view: askedView(query), sideM: side ?? null }
    const tile = await service.marks.chip(id, asked, signalOf(reply))
    // Without the words that tell one place of the mark from another, a chip may be kept under its stamp only while it stays.
    return sendTile(request, reply, tile, at === undefined ? undefined : v)
  })
  app.post('/api/marks/:id/target', ({ params }) => service.marks.makeTarget(parse(idShape, params).id))
  app.get('/api/targets', () => service.marks.targets())
  app.post('/api/targets', ({ body }, reply) =>
    reply.code(201).send(service.marks.addTarget(parse(newTargetShape, body))),
  )
  app.patch('/api/targets/:id', ({ params, body }) =>
    service.marks.changeTarget(parse(idShape, params).id, parse(targetEditShape, body)),
  )
  app.delete('/api/targets/:id', ({ params }, reply) => {
    service.marks.removeTarget(parse(idShape, params).id)
    return reply.code(204).send()
  })
}
