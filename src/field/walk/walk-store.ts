import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import type { Mark, Walk, WalkFix } from './walk.ts'

interface FieldSchema extends DBSchema {
  walks: { key: string; value: Walk }
  fixes: { key: [walk: string, n: number]; value: WalkFix }
  marks: { key: [walk: string, n: number]; value: Mark }
}

/** All that one walk holds. */
export interface WalkContent {
  readonly walk: Walk
  readonly fixes: readonly WalkFix[]
  readonly marks: readonly Mark[]
}

/** Keeps walks in the browser's own database, on the device. A promise that has resolved is a write that is on the disk. */
export interface WalkStore {
  walks(): Promise<Walk[]>
  putWalk(walk: Walk): Promise<void>
  addFix(fix: WalkFix): Promise<void>
  putMark(mark: Mark): Promise<void>
  removeMark(walk: string, n: number): Promise<void>
  content(walk: string): Promise<WalkContent | null>
  counts(walk: string): Promise<{ fixes: number; marks: number }>
  /** Takes the walk with its fixes and marks, in one transaction. */
  removeWalk(walk: string): Promise<void>
}

const strict = { durability: 'strict' } as const
const all = ['walks', 'fixes', 'marks'] as const

/** Every key that begins with this walk. Arrays sort after numbers, so `[walk, []]` stands behind all of them. */
const within = (walk: string): IDBKeyRange => IDBKeyRange.bound([walk], [walk, []])

/** Opens the database `lynchet-field`, making it where there is none. Rejects where the browser keeps nothing (some private windows). */
export async function openWalkStore(): Promise<WalkStore> {
  const db = await openDB<FieldSchema>('lynchet-field', 1, {
    upgrade(made) {
      made.createObjectStore('walks', { keyPath: 'id' })
      made.createObjectStore('fixes', { keyPath: ['walk', 'n'] })
      made.createObjectStore('marks', { keyPath: ['walk', 'n'] })
    },
  })
  return {
    walks: () => db.getAll('walks'),
    putWalk: (walk) => put(db, 'walks', walk),
    addFix: (fix) => put(db, 'fixes', fix),
    putMark: (mark) => put(db, 'marks', mark),
    async removeMark(walk, n) {
      const change = db.transaction('marks', 'readwrite', strict)
      await Promise.all([change.store.delete([walk, n]), change.done])
    },
    async content(id) {
      const read = db.transaction(all, 'readonly')
      const [walk, fixes, marks] = await Promise.all([
        read.objectStore('walks').get(id),
        read.objectStore('fixes').getAll(within(id)),
        read.objectStore('marks').getAll(within(id)),
      ])
      return walk ? { walk, fixes, marks } : null
    },
    async counts(id) {
      const [fixes, marks] = await Promise.all([db.count('fixes', within(id)), db.count('marks', within(id))])
      return { fixes, marks }
    },
    async removeWalk(id) {
      const change = db.transaction(all, 'readwrite', strict)
      await Promise.all([
        change.objectStore('walks').delete(id),
        change.objectStore('fixes').delete(within(id)),
        change.objectStore('marks').delete(within(id)),
        change.done,
      ])
    },
  }
}

async function put<Name extends 'walks' | 'fixes' | 'marks'>(
  db: IDBPDatabase<FieldSchema>,
  name: Name,
  value: FieldSchema[Name]['value'],
): Promise<void> {
  const change = db.transaction(name, 'readwrite', strict)
  await Promise.all([change.store.put(value), change.done])
}
