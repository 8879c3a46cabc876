import type { IncomingHttpHeaders } from 'node:http'

/** Why a request is turned away. The codes are the guard's own, listed in docs/reference/http.md. */
export interface Refusal {
  readonly status: number
  readonly code: 'wrong-host' | 'foreign-page' | 'missing-header' | 'no-session' | 'used-key'
  readonly text: string
}

export interface Asked {
  readonly method: string
  /** Path without the query. */
  readonly path: string
  readonly headers: IncomingHttpHeaders
}

const reads = (method: string): boolean => method === 'GET' || method === 'HEAD'

const isApi = (path: string): boolean => path === '/api' || path.startsWith('/api/')

/** A person following a link to a page (not a script, a picture or a frame that some other page asks for). */
function isVisit({ method, path, headers }: Asked): boolean {
  return (
    method === 'GET' &&
    !isApi(path) &&
    headers['sec-fetch-mode'] === 'navigate' &&
    headers['sec-fetch-dest'] === 'document'
  )
}

const foreignPage: Refusal = {
  status: 403,
  code: 'foreign-page',
  text: 'Another web page tried to use this desk, and was refused.',
}

/**
 * What is wrong with where a request comes from; null where nothing is. `hosts` are the names this server answers to, with
 * the port. Host stops a foreign name made to point at this machine (DNS rebinding); Origin and Sec-Fetch-Site (W3C Fetch
 * Metadata) stop other pages, those of other ports of this machine too ("same-site"); the header x-lynchet, which a form
 * or a link cannot set, stops what slips past an old browser.
 */
export function refusalOfOrigin(asked: Asked, hosts: ReadonlySet<string>): Refusal | null {
  const { headers, method } = asked
  const host = headers.host ?? ''
  if (!hosts.has(host)) {
    const text = `This desk answers only to ${[...hosts].join(' and ')}.`
    return { status: 421, code: 'wrong-host', text }
  }
  if (headers.origin !== undefined && headers.origin !== `http://${host}`) return foreignPage
  const site = headers['sec-fetch-site']
  if (site !== undefined && site !== 'same-origin' && site !== 'none' && !isVisit(asked)) return foreignPage
  if (reads(method)) return null
  if (headers.origin === undefined || headers['x-lynchet'] !== '1') {
    const text = 'A request that changes something needs the headers Origin and x-lynchet: 1.'
    return { status: 403, code: 'missing-header', text }
  }
  return null
}

export const noSession: Refusal = {
  status: 401,
  code: 'no-session',
  text: 'This browser has not been let in: start Lynchet in the terminal and open the address that it prints.',
}

export const usedKey: Refusal = {
  status: 401,
  code: 'used-key',
  text: 'This address has been used, and works once only: start Lynchet again in the terminal and open the new one.',
}

/** True for a load that the browser makes ahead of the person (Fetch, Sec-Purpose; older: Purpose). */
export function isAheadOfTime(headers: IncomingHttpHeaders): boolean {
  const purpose = [headers['sec-purpose'], headers.purpose, headers['x-moz']].flat().join(' ')
  return /prefetch|prerender|preview/i.test(purpose)
}

/** True where an answer should be a page to read, not JSON: a browser's own address bar or link, outside the API. */
export function wantsPage({ method, path, headers }: Asked): boolean {
  return reads(method) && !isApi(path) && (headers.accept ?? '').includes('text/html')
}
