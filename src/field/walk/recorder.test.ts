import { expect, test, vi } from 'vitest'
import type { PositionListener } from '../device/position-watch.ts'
import { figuresOf, Recorder } from './recorder.ts'
import type { Fix, Mark, Walk, WalkFix } from './walk.ts'
import { findspotOfMark, trackOfWalk } from './walk-records.ts'
import type { WalkStore } from './walk-store.ts'

/** A store in memory: the same promises as the browser's, without the browser. */
function memoryStore(): WalkStore & { full: boolean } {
  const walks = new Map<string, Walk>()
  const fixes = new Map<string, WalkFix>()
  const marks = new Map<string, Mark>()
  const key = (each: { walk: string; n: number }): string => `${each.walk} ${String(each.n).padStart(6, '0')}`
  const of = <T extends { walk: string; n: number }>(map: Map<string, T>, walk: string): T[] =>
    [...map.values()].filter((each) => each.walk === walk).sort((a, b) => a.n - b.n)
  const store = {
    full: false,
    walks: async () => [...walks.values()],
    putWalk: async (walk: Walk) => void walks.set(walk.id, walk),
    addFix: async (fix: WalkFix) => {
      if (store.full) throw new Error('quota exceeded')
      fixes.set(key(fix), fix)
    },
    putMark: async (mark: Mark) => void marks.set(key(mark), mark),
    removeMark: async (walk: string, n: number) => void marks.delete(key({ walk, n })),
    content: async (id: string) => {
      const walk = walks.get(id)
      return walk ? { walk, fixes: of(fixes, id), marks: of(marks, id) } : null
    },
    counts: async (id: string) => ({ fixes: of(fixes, id).length, marks: of(marks, id).length }),
    removeWalk: async (id: string) => void walks.delete(id),
  }
  return store
}

function bench(store = memoryStore()) {
  const listeners: PositionListener[] = []
  const ended = vi.fn()
  let now = 1_000_000
  const recorder = new Recorder(
    async () => store,
    (listener) => {
      listeners.push(listener)
      return ended
    },
    () => now,
  )
  const fix = (over: Partial<Fix> = {}): void => {
    now += 1000
    listeners.at(-1)!.fix({ time: now, lat: 53, lon: 0.36, accuracyM: 4, altitude: null, ...over })
  }
  return { recorder, listeners, ended, store, fix }
}

test('a walk is started, recorded, marked and stopped', async () => {
  const { recorder, fix, ended } = bench()
  await recorder.load()
  expect(recorder.state().phase).toBe('idle')
  await recorder.start('a')
  expect(await recorder.mark()).toBeNull()
  fix()
  fix({ lat: 53.0001 })
  const mark = await recorder.mark()
  await recorder.describeMark(mark!.n, 'bag 4, buckle')
  fix({ lat: 53.0002 })
  expect(recorder.state().figures.fixes).toBe(3)
  expect(recorder.state().figures.distanceM).toBeCloseTo(22.26, 1)
  await recorder.stop()
  expect(ended).toHaveBeenCalledOnce()
  const content = (await recorder.content('a'))!
  expect(content.fixes.map((each) => each.lat)).toEqual([53, 53.0001, 53.0002])
  expect(content.marks).toMatchObject([{ n: 1, text: 'bag 4, buckle', fix: { lat: 53.0001 } }])
  expect(recorder.state().past).toMatchObject([{ walk: { id: 'a' }, fixes: 3, marks: 1 }])
})

test('a walk that was never stopped goes on in a new segment after a reload, and the jump is not walked', async () => {
  const before = bench()
  await before.recorder.load()
  await before.recorder.start('a')
  before.fix()
  before.fix({ lat: 53.0001 })
  await before.recorder.mark()

  const { recorder, fix, store } = bench(before.store)
  await recorder.load()
  expect(recorder.state()).toMatchObject({ phase: 'recording', figures: { fixes: 2 } })
  expect(recorder.state().marks).toHaveLength(1)
  const walked = recorder.state().figures.distanceM
  const last = before.recorder.state().lastFix!
  fix(last)
  expect(recorder.state()).toMatchObject({ lastFix: last, figures: { fixes: 2 } })
  fix({ lat: 53.01, time: 9_000_000 })
  expect(recorder.state().figures.distanceM).toBe(walked)
  await recorder.stop()
  const content = (await store.content('a'))!
  expect(content.fixes.map((each) => [each.n, each.segment])).toEqual([
    [0, 0],
    [1, 0],
    [2, 1],
  ])
  expect(figuresOf(content.fixes).distanceM).toBeCloseTo(walked, 9)
})

test('the same fix handed over twice counts once', async () => {
  const { recorder, listeners } = bench()
  await recorder.load()
  await recorder.start('a')
  const same = { time: 5, lat: 53, lon: 0.3, accuracyM: 3, altitude: 2 }
  listeners[0]!.fix(same)
  listeners[0]!.fix(same)
  expect(recorder.state().figures.fixes).toBe(1)
})

test('a full device is said, and what was kept before stays', async () => {
  const { recorder, fix, store } = bench()
  await recorder.load()
  await recorder.start('a')
  fix()
  await recorder.content('a')
  store.full = true
  fix()
  await vi.waitFor(() => expect(recorder.state().storeFault).toContain('quota exceeded'))
  store.full = false
  fix()
  await vi.waitFor(() => expect(recorder.state().storeFault).toBeNull())
  expect((await recorder.content('a'))!.fixes.map((each) => each.n)).toEqual([0, 2])
})

test('a refusal is told and a position takes it back', async () => {
  const { recorder, listeners, fix } = bench()
  await recorder.load()
  await recorder.start('a')
  listeners[0]!.trouble('refused')
  expect(recorder.state().trouble).toBe('refused')
  fix()
  expect(recorder.state().trouble).toBeNull()
})

test('a browser that keeps nothing is told', async () => {
  const recorder = new Recorder(
    () => Promise.reject(new Error('no database')),
    () => () => {},
    () => 0,
  )
  await recorder.load()
  expect(recorder.state().phase).toBe('no-store')
})

test('marks can be taken out, walks deleted', async () => {
  const { recorder, fix } = bench()
  await recorder.load()
  await recorder.start('a')
  fix()
  await recorder.mark()
  await recorder.mark()
  await recorder.removeMark(1)
  expect(recorder.state().marks.map((mark) => mark.n)).toEqual([2])
  await recorder.stop()
  await recorder.removeWalk('a')
  expect(recorder.state().past).toEqual([])
  expect(await recorder.content('a')).toBeNull()
})

test('a walk becomes a track with its segments, times and accuracies, a mark a findspot', () => {
  const fix = (n: number, segment: number): WalkFix => ({
    walk: 'a',
    n,
    segment,
    time: 1_789_200_000_500 + n * 1000,
    lat: 53 + n / 1e4,
    lon: 0.36,
    accuracyM: 3.456,
    altitude: n === 1 ? 12.5 : null,
  })
  const track = trackOfWalk({
    walk: { id: 'a', startedAt: Date.UTC(2026, 8, 12, 8, 10, 5), endedAt: null },
    fixes: [fix(0, 0), fix(1, 0), fix(2, 3)],
    marks: [],
  })
  expect(track.name).toBe('Walk of 2026-09-12 08:10')
  expect([...track.segmentStart]).toEqual([0, 2])
  expect(track.time![1]).toBe(1_789_200_001.5)
  expect([...track.elevation!]).toEqual([Number.NaN, 12.5, Number.NaN])
  expect(track.extras).toEqual([{ name: 'accuracy_m', at: [0, 1, 2], text: ['3.5', '3.5', '3.5'] }])
  const mark: Mark = { walk: 'a', n: 2, time: fix(0, 0).time + 9000, fix: fix(0, 0), text: '  ' }
  expect(findspotOfMark(mark)).toMatchObject({
    name: 'Mark 2',
    y: 53,
    note: null,
    accuracyM: 3.456,
    attributes: { position_age_s: '9' },
  })
})
