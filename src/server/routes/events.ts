import { PassThrough } from 'node:stream'
import type { FastifyInstance } from 'fastify'
import type { DeskEvent, DeskService } from '#service'

/** A reader that has fallen this far behind is let go; its browser comes back and is told how things stand. */
const mostWaitingBytes = 4 * 1024 * 1024

/** One server-sent event (HTML standard, 9.2). JSON holds no line break, so one data line is enough. */
function eventText(event: DeskEvent): string {
  const data = event.type === 'job' ? event.job : { revision: event.revision }
  return `event: ${event.type}\ndata: ${JSON.stringify(data)}\n\n`
}

/** What a page that has just come, or come back, must know not to miss anything: the revision, and the work under way. */
function howThingsStand(service: DeskService): DeskEvent[] {
  const jobs = service.jobs().filter((job) => job.state === 'running')
  return [
    { type: 'survey', revision: service.view().revision },
    ...jobs.map((job) => ({ type: 'job', job }) as const),
  ]
}

export function eventRoutes(app: FastifyInstance, service: DeskService, heartbeatMs: number): void {
  const open = new Set<PassThrough>()
  app.get('/api/events', (_request, reply) => {
    const now = howThingsStand(service)
    const stream = new PassThrough()
    const write = (text: string): void => {
      if (stream.writableLength > mostWaitingBytes) stream.destroy()
      else stream.write(text)
    }
    stream.write('retry: 2000\n\n')
    for (const event of now) write(eventText(event))
    const stopTelling = service.onEvent((event) => write(eventText(event)))
    // A line that says nothing keeps the connection and shows each end that the other is there.
    const beat = setInterval(() => write(': still here\n\n'), heartbeatMs)
    beat.unref()
    open.add(stream)
    stream.once('close', () => {
      clearInterval(beat)
      stopTelling()
      open.delete(stream)
    })
    return reply.type('text/event-stream').send(stream)
  })
  app.addHook('preClose', async () => {
    for (const stream of open) stream.end()
  })
}
