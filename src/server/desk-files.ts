import { existsSync } from 'node:fs'
import path from 'node:path'
import fastifyStatic from '@fastify/static'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { plainPage } from './plain-page.ts'

/** Addresses that the desk page itself makes sense of. */
const pages = ['/', '/looks', '/looks/*'] as const

/** A file whose name carries a hash of what it holds: another content has another name. */
const hashed = /[\\/]assets[\\/][^\\/]*-[\w-]{8,}\.\w+$/

const notBuilt = plainPage({
  title: 'The desk has not been built',
  sentences: [
    'The server runs, but the page that it should show is not there.',
    'Stop it, then run npm start in the folder of the program: that builds the page first.',
  ],
})

/** What every file of a built page is served with: kept for ever where its name tells its content, else asked for anew. */
const served = {
  index: false,
  dotfiles: 'ignore',
  cacheControl: false,
  suppressWarning: true,
  setHeaders: (reply: { header(name: string, value: string): unknown }, file: string): void => {
    reply.header('cache-control', hashed.test(file) ? 'private, max-age=31536000, immutable' : 'no-cache')
  },
} as const

/** Serves the built desk: its files, and its one page for every address that the page itself makes sense of. */
export function deskFiles(app: FastifyInstance, deskFolder: string): void {
  const root = path.resolve(deskFolder)
  app.register(fastifyStatic, { ...served, root })
  const page = (_request: FastifyRequest, reply: FastifyReply): FastifyReply => {
    if (existsSync(path.join(root, 'index.html'))) return reply.sendFile('index.html')
    return reply.code(503).type('text/html; charset=utf-8').send(notBuilt)
  }
  for (const address of pages) app.get(address, page)
}

/** Serves the built field page below /field/, so that it can be tried, and used, on the machine of the desk. */
export function fieldFiles(app: FastifyInstance, fieldFolder: string): void {
  app.register(fastifyStatic, {
    ...served,
    index: 'index.html',
    root: path.resolve(fieldFolder),
    prefix: '/field/',
    decorateReply: false,
  })
  app.get('/field', (_request, reply) => reply.redirect('/field/', 308))
}
