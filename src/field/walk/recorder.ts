import type { PositionSource, PositionTrouble } from '../device/position-watch.ts'
import { stepLength } from './step-length.ts'
import { type Fix, type Mark, noFigures, type Walk, type WalkFigures, type WalkFix } from './walk.ts'
import type { WalkContent, WalkStore } from './walk-store.ts'

export interface WalkSummary {
  readonly walk: Walk
  readonly fixes: number
  readonly marks: number
}

export interface RecorderState {
  readonly phase: 'loading' | 'idle' | 'recording' | 'no-store'
  /** The walk being recorded, else null. */
  readonly walk: Walk | null
  readonly figures: WalkFigures
  readonly lastFix: Fix | null
  /** Marks of the walk being recorded, newest first. */
  readonly marks: readonly Mark[]
  readonly trouble: PositionTrouble | null
  /** A write that failed, in words; the fix or mark it held is not kept. */
  readonly storeFault: string | null
  /** Finished walks, newest first. */
  readonly past: readonly WalkSummary[]
}

const empty: RecorderState = {
  phase: 'loading',
  walk: null,
  figures: noFigures,
  lastFix: null,
  marks: [],
  trouble: null,
  storeFault: null,
  past: [],
}

/**
 * Records one walk at a time. Every fix and mark is written before the next thing is done with it, so that a reload, a crash
 * or an empty battery costs at most the fix of that second. A walk still open when the page loads goes on in a new segment.
 */
export class Recorder {
  readonly #openStore: () => Promise<WalkStore>
  #opened: WalkStore | null = null
  readonly #watch: PositionSource
  readonly #now: () => number
  readonly #listeners = new Set<() => void>()
  #state = empty
  #stopWatching: (() => void) | null = null
  #nextFix = 0
  #segment = 0
  /** The last fix written in this segment; null at its start. */
  #previous: Fix | null = null
  /** Time of the last fix written, in whatever segment. */
  #lastTime = Number.NEGATIVE_INFINITY
  /** Writes are made one after another, so that numbers follow the order in which things came. */
  #writing: Promise<void> = Promise.resolve()

  constructor(openStore: () => Promise<WalkStore>, watch: PositionSource, now: () => number) {
    this.#openStore = openStore
    this.#watch = watch
    this.#now = now
  }

  readonly state = (): RecorderState => this.#state

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  get #store(): WalkStore {
    if (!this.#opened) throw new TypeError('the recorder is used before it is loaded')
    return this.#opened
  }

  /** Opens the store and reads what is kept; goes on with a walk that was never stopped. */
  async load(): Promise<void> {
    try {
      this.#opened = await this.#openStore()
    } catch {
      this.#set({ phase: 'no-store' })
      return
    }
    const open = (await this.#store.walks()).find((walk) => walk.endedAt === null)
    if (!open) {
      this.#set({ phase: 'idle', past: await this.#pastWalks() })
      return
    }
    const content = (await this.#store.content(open.id))!
    const last = content.fixes.at(-1)
    this.#nextFix = last ? last.n + 1 : 0
    this.#segment = last ? last.segment + 1 : 0
    this.#lastTime = last?.time ?? Number.NEGATIVE_INFINITY
    this.#set({ walk: open, figures: figuresOf(content.fixes), marks: content.marks.toReversed() })
    this.#set({ past: await this.#pastWalks() })
    this.#beginWatching()
  }

  async start(id: string): Promise<void> {
    if (this.#state.phase !== 'idle') return
    const walk: Walk = { id, startedAt: this.#now(), endedAt: null }
    this.#nextFix = 0
    this.#segment = 0
    this.#previous = null
    this.#lastTime = Number.NEGATIVE_INFINITY
    if (!(await this.#write(() => this.#store.putWalk(walk)))) return
    this.#set({ walk, figures: noFigures, marks: [], lastFix: null, trouble: null })
    this.#beginWatching()
  }

  async stop(): Promise<void> {
    const { walk } = this.#state
    if (!walk) return
    this.#stopWatching?.()
    this.#stopWatching = null
    if (!(await this.#write(() => this.#store.putWalk({ ...walk, endedAt: this.#now() })))) {
      this.#beginWatching()
      return
    }
    this.#set({ ...empty, phase: 'idle', past: await this.#pastWalks() })
  }

  /** Marks a findspot at the last fix, at once and without words; null while there is no fix. */
  async mark(): Promise<Mark | null> {
    const { walk, lastFix, marks } = this.#state
    if (!walk || !lastFix) return null
    const n = (marks[0]?.n ?? 0) + 1
    const mark: Mark = { walk: walk.id, n, time: this.#now(), fix: lastFix, text: '' }
    this.#set({ marks: [mark, ...marks] })
    await this.#write(() => this.#store.putMark(mark))
    return mark
  }

  async describeMark(n: number, text: string): Promise<void> {
    const mark = this.#state.marks.find((each) => each.n === n)
    if (!mark) return
    const changed = { ...mark, text }
    this.#set({ marks: this.#state.marks.map((each) => (each.n === n ? changed : each)) })
    await this.#write(() => this.#store.putMark(changed))
  }

  async removeMark(n: number): Promise<void> {
    const { walk, marks } = this.#state
    if (!walk) return
    if (await this.#write(() => this.#store.removeMark(walk.id, n))) {
      this.#set({ marks: marks.filter((each) => each.n !== n) })
    }
  }

  async removeWalk(id: string): Promise<void> {
    if (await this.#write(() => this.#store.removeWalk(id))) this.#set({ past: await this.#pastWalks() })
  }

  /** Everything of one walk, with all that was asked to be written before. */
  async content(id: string): Promise<WalkContent | null> {
    await this.#writing
    return this.#store.content(id)
  }

  #beginWatching(): void {
    this.#set({ phase: 'recording' })
    this.#stopWatching = this.#watch({
      fix: (fix) => void this.#take(fix),
      trouble: (trouble) => this.#set({ trouble }),
    })
  }

  /**
   * Takes one fix. A device may hand the same one over again, after a reload above all: it says where we are, but it is not
   * written twice.
   */
  async #take(fix: Fix): Promise<void> {
    const { walk, figures } = this.#state
    if (!walk) return
    this.#set({ lastFix: fix, trouble: null })
    if (fix.time <= this.#lastTime) return
    const kept: WalkFix = { ...fix, walk: walk.id, n: this.#nextFix++, segment: this.#segment }
    const step = this.#previous ? stepLength(this.#previous, fix) : 0
    this.#previous = fix
    this.#lastTime = fix.time
    this.#set({ figures: { fixes: figures.fixes + 1, distanceM: figures.distanceM + step } })
    await this.#write(() => this.#store.addFix(kept))
  }

  async #pastWalks(): Promise<WalkSummary[]> {
    const ended = (await this.#store.walks()).filter((walk) => walk.endedAt !== null)
    ended.sort((a, b) => b.startedAt - a.startedAt)
    return Promise.all(ended.map(async (walk) => ({ walk, ...(await this.#store.counts(walk.id)) })))
  }

  async #write(work: () => Promise<void>): Promise<boolean> {
    const mine = this.#writing.then(work)
    this.#writing = mine.catch(() => {})
    try {
      await mine
      if (this.#state.storeFault) this.#set({ storeFault: null })
      return true
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error)
      this.#set({
        storeFault: `The device could not keep the last fix or mark (${reason}). Free some space; nothing kept before is lost.`,
      })
      return false
    }
  }

  #set(change: Partial<RecorderState>): void {
    this.#state = { ...this.#state, ...change }
    for (const listener of this.#listeners) listener()
  }
}

/** Number of fixes, and the length of the steps inside segments, metres. Cost grows with the fixes. */
export function figuresOf(fixes: readonly WalkFix[]): WalkFigures {
  let distanceM = 0
  for (let i = 1; i < fixes.length; i++) {
    if (fixes[i]!.segment === fixes[i - 1]!.segment) distanceM += stepLength(fixes[i - 1]!, fixes[i]!)
  }
  return { fixes: fixes.length, distanceM }
}
