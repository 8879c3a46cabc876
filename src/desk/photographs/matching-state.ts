import type { PhotographGoal, PhotographMatch, PhotographMatches, PhotographMoment } from '#contract'
import type { PhotographRole } from '#core/finds'
import { deskApi } from '../api/desk-api.ts'
import { findsApi } from '../api/finds-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import { tell } from '../state/notices.ts'
import { createStore } from '../state/store.ts'

/** One photograph that was given to be matched. */
export interface GivenPhotograph {
  readonly key: number
  readonly file: File
  /** Address of the picture in this page. */
  readonly address: string
  readonly moment: PhotographMoment | null
  readonly match: PhotographMatch | null
  /** The find it is to go to; null to leave it out. */
  readonly goal: PhotographGoal | null
  /** True where a person chose the goal: matching anew then leaves it. */
  readonly chosen: boolean
  /** What became of it; null until it was attached. */
  readonly outcome: string | null
  readonly fault: string | null
}

export interface MatchSettings {
  /** Null to find out. */
  readonly zoneS: number | null
  readonly clockS: number
  readonly withinM: number
  readonly withinS: number
}

interface Under {
  readonly label: string
  readonly done: number
}

const usual: MatchSettings = { zoneS: null, clockS: 0, withinM: 15, withinS: 600 }

export const given = createStore<readonly GivenPhotograph[]>([])
export const matchSettings = createStore(usual)
export const matchNotes = createStore<readonly string[]>([])
export const matchFault = createStore<string | null>(null)
export const under = createStore<Under | null>(null)
export const roleOfAll = createStore<PhotographRole>('other')

let nextKey = 1
let stopped = false

/** All that a camera writes stands well within this of the beginning of a JPEG. */
const headBytes = 1024 * 1024

async function firstPart(file: File): Promise<Blob> {
  const [a, b] = new Uint8Array(await file.slice(0, 2).arrayBuffer())
  return a === 0xff && b === 0xd8 ? file.slice(0, headBytes) : file
}

async function hashOf(file: File): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', await file.arrayBuffer()))
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, '0')).join('')
}

function replace(key: number, by: Partial<GivenPhotograph>): void {
  given.set((now) => now.map((one) => (one.key === key ? { ...one, ...by } : one)))
}

/** Opens the list of photographs with these added to it; those it has already are not taken twice. */
export async function matchPhotographs(files: readonly File[]): Promise<void> {
  const known = new Set(given.get().map(({ file }) => `${file.name} ${file.size} ${file.lastModified}`))
  const fresh = files
    .filter(({ name, size, lastModified }) => !known.has(`${name} ${size} ${lastModified}`))
    .map((file): GivenPhotograph => {
      const blank = { moment: null, match: null, goal: null, chosen: false, outcome: null, fault: null }
      return { key: nextKey++, file, address: URL.createObjectURL(file), ...blank }
    })
  given.set((now) => [...now, ...fresh])
  openDialog.set('photographs')
  stopped = false
  for (const [i, { key, file }] of fresh.entries()) {
    if (stopped) break
    under.set({ label: `reading ${file.name}`, done: i / fresh.length })
    try {
      const moment = await deskApi.photographMoment(file.name, await firstPart(file))
      replace(key, { moment: { ...moment, sha256: await hashOf(file) }, fault: moment.faults[0] ?? null })
    } catch (error) {
      replace(key, { fault: sentenceOf(error) })
    }
  }
  under.set(null)
  if (stopped) given.set((now) => now.filter(({ moment, fault }) => moment !== null || fault !== null))
  await matchNow()
}

/** Matches all that have been read anew; what a person chose stays. */
async function matchNow(): Promise<void> {
  const read = given.get().filter(({ moment, outcome }) => moment !== null && outcome === null)
  if (read.length === 0) return
  matchFault.set(null)
  let matches: PhotographMatches
  try {
    matches = await deskApi.matchPhotographs({
      ...matchSettings.get(),
      photographs: read.map(({ moment }) => moment!),
    })
  } catch (error) {
    matchFault.set(sentenceOf(error))
    return
  }
  const byKey = new Map(read.map(({ key }, i) => [key, matches.photographs[i]!]))
  matchNotes.set(matches.notes)
  given.set((now) =>
    now.map((one) => {
      const match = byKey.get(one.key)
      if (match === undefined) return one
      const goal = match.state === 'matched' ? (match.goals[0] ?? null) : null
      return { ...one, match, goal: one.chosen ? one.goal : goal }
    }),
  )
}

export async function changeMatching(change: Partial<MatchSettings>): Promise<void> {
  matchSettings.set((now) => ({ ...now, ...change }))
  await matchNow()
}

export function chooseGoal(key: number, goal: PhotographGoal | null): void {
  replace(key, { goal, chosen: true })
}

export function stopReading(): void {
  stopped = true
}

/** Attaches every photograph to the find it is to go to, one after another; a findspot without a find gets one. */
export async function attachAll(): Promise<void> {
  const wanted = given.get().filter(({ goal, outcome }) => goal !== null && outcome === null)
  const made = new Map<number, { readonly id: number; readonly number: string }>()
  stopped = false
  let attached = 0
  for (const [i, { key, file, goal }] of wanted.entries()) {
    if (stopped) break
    under.set({ label: `attaching ${file.name}`, done: i / wanted.length })
    try {
      const find = await findOf(goal!, made)
      const { alreadyThere } = await findsApi.addPhotograph(find.id, file, roleOfAll.get())
      if (!alreadyThere) attached++
      replace(key, {
        outcome: alreadyThere ? `${find.number} had it already` : `attached to ${find.number}`,
        fault: null,
      })
    } catch (error) {
      replace(key, { fault: sentenceOf(error) })
    }
  }
  under.set(null)
  await refreshSurvey()
  if (attached > 0)
    tell(
      'good',
      `Attached ${attached === 1 ? '1 photograph' : `${attached} photographs`}. Undo takes them off one by one.`,
    )
}

async function findOf(
  { find, findspot, label }: PhotographGoal,
  made: Map<number, { readonly id: number; readonly number: string }>,
): Promise<{ readonly id: number; readonly number: string }> {
  if (find !== null) return { id: find, number: label.split(',')[0]! }
  const known = made.get(findspot)
  if (known !== undefined) return known
  const { id, record } = await findsApi.add({ record: {}, findspot })
  const added = { id, number: record.number }
  made.set(findspot, added)
  return added
}

/** Lets go of all photographs: what was not attached is forgotten. */
export function forgetPhotographs(): void {
  stopped = true
  for (const { address } of given.get()) URL.revokeObjectURL(address)
  given.set([])
  matchSettings.set(usual)
  matchNotes.set([])
  matchFault.set(null)
  under.set(null)
}
