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

/** Serves the built desk: its files, and its one page for every address that the page itself makes sense of. */
export function deskFiles(app: FastifyInstance, deskFolder: string): void {
  const root = path.resolve(deskFolder)
  app.register(fastifyStatic, {
    root,
    index: false,
    dotfiles: 'ignore',
    cacheControl: false,
    suppressWarning: true,
    setHeaders: (reply, file) => {
      reply.header('cache-control', hashed.test(file) ? 'private, max-age=31536000, immutable' : 'no-cache')
    },
  })
  const page = (_request: FastifyRequest, reply: FastifyReply): FastifyReply => {
    if (existsSync(path.join(root, 'index.html'))) return reply.sendFile('index.html')
    return reply.code(503).type('text/html; charset=utf-8').send(notBuilt)
  }
  for (const address of pages) app.get(address, page)
}
