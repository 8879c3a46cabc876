import { randomUUID } from 'node:crypto'
import { userInfo } from 'node:os'
import type { Surroundings } from '#store'

/** The name written on changes: the user's on this machine, or 'unknown' where the system knows none. */
function userName(): string {
  try {
    return userInfo().username
  } catch {
    return 'unknown'
  }
}

/** The real clock, real random UUIDs and the user of this machine. */
export const surroundings: Surroundings = { now: () => new Date(), uuid: randomUUID, by: userName() }
