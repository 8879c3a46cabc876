import { createHash, timingSafeEqual } from 'node:crypto'

/** One start of the server: a key handed over once, and the cookie that it buys. */
export interface Session {
  readonly key: string
  /** The Set-Cookie text for the right key at its first use; null for a wrong or used one. */
  redeem(candidate: string): string | null
  /** True when a Cookie header carries this session's cookie. */
  heldBy(cookieHeader: string | undefined): boolean
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest()

/** Compares without telling, by the time it takes, how much of the text was right. */
const same = (a: string, b: string): boolean => timingSafeEqual(digest(a), digest(b))

/** Value of one cookie in a Cookie header (RFC 6265, 4.2.1); undefined where it is not there. */
export function cookieValue(header: string, name: string): string | undefined {
  for (const pair of header.split(';')) {
    const at = pair.indexOf('=')
    if (at > 0 && pair.slice(0, at).trim() === name) return pair.slice(at + 1).trim()
  }
  return undefined
}

/**
 * A session for the server on `port`. Browsers keep cookies by host name and not by port, so the port is part of the
 * cookie's name: two desks open at once do not put each other out.
 */
export function createSession(port: number, newSecret: () => string): Session {
  const key = newSecret()
  const secret = newSecret()
  const name = `lynchet-${port}`
  let used = false
  return {
    key,
    redeem(candidate) {
      if (used || !same(candidate, key)) return null
      used = true
      return `${name}=${secret}; Path=/; HttpOnly; SameSite=Strict`
    },
    heldBy(cookieHeader) {
      const value = cookieHeader === undefined ? undefined : cookieValue(cookieHeader, name)
      return value !== undefined && same(value, secret)
    },
  }
}
