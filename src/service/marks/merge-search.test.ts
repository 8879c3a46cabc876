import { expect, test } from 'vitest'
import type { MarkSearch } from '#contract'
import type { MarkFacts, StoredMark } from '#store'
import type { FoundMark, MarkShape, PlacedMark } from './known-mark.ts'
import { mergeSearch, outcomeWords } from './merge-search.ts'

const search = {
  kind: 'ring',
  layerId: 1,
  view: { view: 'as-is' },
  minDiameterM: 10,
  maxDiameterM: 40,
  tone: 'either',
  most: 100,
} as const satisfies MarkSearch

function facts(over: Partial<MarkFacts> = {}): MarkFacts {
  return {
    kind: 'ring',
    state: 'candidate',
    note: null,
    outline: { type: 'line', xy: Float64Array.of(0, 0, 1, 1) },
    lon: 0,
    lat: 53,
    planar: null,
    diameterM: 20,
    ditchWidthM: 1,
    tone: 'dark',
    completeness: 0.5,
    arcGaps: [],
    ellipticity: 1,
    contrast: 2,
    score: 0.5,
    falseAlarmsPerKm2: 1,
    pairSpacingM: null,
    mayBe: [],
    layerId: 1,
    layerName: 'dry',
    view: { view: 'as-is' },
    settings: null,
    seenAgain: [],
    madeBy: 'detector',
    edited: false,
    ...over,
  }
}

const round = (x: number, diameter: number): MarkShape => ({ round: { x, y: 0, diameter } })

let id = 0
function known(x: number, over: Partial<StoredMark> = {}, hasTarget = false): PlacedMark {
  id += 1
  const mark: StoredMark = { ...facts(), id, uuid: `u${id}`, madeAt: 0, ...over }
  return { mark, shape: round(x, mark.diameterM!), hasTarget }
}
const found = (x: number, over: Partial<MarkFacts> = {}): FoundMark => ({
  shape: round(x, over.diameterM ?? 20),
  facts: facts(over),
})

test('what is new is added, once even where the search gives it twice', () => {
  const { changes, outcome } = mergeSearch([], [found(0), found(2), found(100)], search, null)
  expect(changes.add).toHaveLength(2)
  expect(outcome).toEqual({ found: 3, added: 2, known: 0, rejectedBefore: 0, dropped: 0 })
})

test.each(['accepted', 'rejected', 'unsure'] as const)(
  'a mark that is %s stays so and is not added again',
  (state) => {
    const mark = known(0, { state, note: 'seen by me' })
    const { changes, outcome } = mergeSearch([mark], [found(4, { diameterM: 24 })], search, null)
    expect(changes).toEqual({ add: [], change: [], remove: [] })
    expect(outcome).toMatchObject({ added: 0, known: 1, rejectedBefore: state === 'rejected' ? 1 : 0 })
  },
)

test('beside the place or of another size it is another mark', () => {
  const mark = known(0, { state: 'rejected' })
  expect(mergeSearch([mark], [found(5.1)], search, null).changes.add).toHaveLength(1)
  expect(mergeSearch([mark], [found(0, { diameterM: 27 })], search, null).changes.add).toHaveLength(1)
})

test('on another layer or in another view a known mark is noted as seen again, once for each', () => {
  const mark = known(0, { state: 'rejected' })
  const other = { ...search, layerId: 2 }
  const first = mergeSearch([mark], [found(1, { layerId: 2, layerName: 'wet' })], other, '2024-06-20')
  const seen = {
    layerId: 2,
    layerName: 'wet',
    takenOn: '2024-06-20',
    view: { view: 'as-is' },
    score: 0.5,
    falseAlarmsPerKm2: 1,
  }
  expect(first.changes).toEqual({
    add: [],
    change: [{ id: mark.mark.id, edit: { seenAgain: [seen] } }],
    remove: [],
  })
  const again = known(0, { seenAgain: [seen] })
  const second = mergeSearch([again], [found(1, { layerId: 2, layerName: 'wet', score: 0.75 })], other, null)
  expect(second.changes.change[0]!.edit.seenAgain).toMatchObject([{ layerId: 2, score: 0.75 }])
})

test('an untouched candidate is measured anew, and keeps what else is known of it', () => {
  const mark = known(0)
  const [change] = mergeSearch([mark], [found(1, { completeness: 0.9 })], search, null).changes.change
  expect(change).toMatchObject({ id: mark.mark.id, edit: { completeness: 0.9 } })
  expect(Object.keys(change!.edit)).not.toContain('state')
  expect(Object.keys(change!.edit)).not.toContain('seenAgain')
})

test('untouched candidates of the same search go when they are not found again, and no others', () => {
  const goes = known(0)
  const stays = [
    known(100, { state: 'unsure' }),
    known(200, { note: 'look again' }),
    known(300, { edited: true }),
    known(400, { madeBy: 'hand' }),
    known(500, {}, true),
    known(600, { layerId: 2 }),
    known(700, { view: { view: 'equalised' } }),
    known(800, { diameterM: 60 }),
    known(900, { kind: 'pit' }),
    known(1000, {
      seenAgain: [
        { layerId: 2, layerName: 'wet', takenOn: null, view: null, score: 1, falseAlarmsPerKm2: 1 },
      ],
    }),
  ]
  expect(mergeSearch([goes, ...stays], [], search, null).changes.remove).toEqual([goes.mark.id])
  expect(mergeSearch([goes], [], { ...search, tone: 'light' }, null).changes.remove).toEqual([])
})

test('what it came to is said in words', () => {
  expect(outcomeWords({ found: 0, added: 0, known: 0, rejectedBefore: 0, dropped: 0 }, 'pit')).toBe(
    'no pit was found',
  )
  expect(outcomeWords({ found: 3, added: 1, known: 2, rejectedBefore: 1, dropped: 4 }, 'ring')).toBe(
    '3 candidates: 1 new; 2 known before, 1 of them rejected and left so; 4 of the last search not found again',
  )
})

test('a ring and a pit on one spot are two questions, until a person has said which it is', () => {
  const pits: MarkSearch = { ...search, kind: 'pit' }
  const pit = found(0, { kind: 'pit' })
  for (const untold of [known(0), known(0, { state: 'rejected' }), known(0, { state: 'unsure' })]) {
    expect(mergeSearch([untold], [pit], pits, null).changes).toEqual({
      add: [pit.facts],
      change: [],
      remove: [],
    })
  }
  // Accepted as a ring, drawn as one, and found as a pit but called a ring since.
  for (const told of [
    known(0, { state: 'accepted' }),
    known(0, { madeBy: 'hand' }),
    known(0, { edited: true, state: 'rejected' }),
  ]) {
    const { changes, outcome } = mergeSearch([told], [pit], pits, null)
    expect([changes.add, outcome.known]).toEqual([[], 1])
  }
})

test('one that settled a little beyond the sizes of its search goes with it, and stays for a narrower one', () => {
  const settings = { minDiameterM: 10, maxDiameterM: 40 }
  const beyond = known(0, { diameterM: 41, settings })
  expect(mergeSearch([beyond], [], search, null).changes.remove).toEqual([beyond.mark.id])
  expect(mergeSearch([beyond], [], { ...search, maxDiameterM: 30 }, null).changes.remove).toEqual([])
})

test('a search for pits drops pits that it does not find again, and leaves rings alone', () => {
  const [pit, ring] = [known(0, { kind: 'pit' }), known(100)]
  const pits: MarkSearch = { ...search, kind: 'pit' }
  expect(mergeSearch([pit, ring], [], pits, null).changes.remove).toEqual([pit.mark.id])
})

const line = (...xy: number[]): MarkShape => ({ line: { xy: Float64Array.from(xy), width: 1 } })
const lineFacts = (over: Partial<MarkFacts> = {}) =>
  facts({ kind: 'line', diameterM: null, ditchWidthM: 1, ...over })
const lines = {
  kind: 'line',
  layerId: 1,
  view: { view: 'as-is' },
  minWidthM: 0.5,
  maxWidthM: 4,
  leastLengthM: 20,
  tone: 'either',
  most: 100,
} as const satisfies MarkSearch

function knownLine(shape: MarkShape, over: Partial<StoredMark> = {}): PlacedMark {
  return { ...known(0, { ...lineFacts(), ...over }), shape }
}

test('a rejected line is not brought back, not in pieces either', () => {
  const mark = knownLine(line(0, 0, 120, 0), { state: 'rejected' })
  const again = [line(0, 0.5, 119, 0.5), line(60, 0, 90, 0.4), line(0, 8, 120, 8)].map((shape) => ({
    shape,
    facts: lineFacts(),
  }))
  const { changes, outcome } = mergeSearch([mark], again, lines, null)
  expect(changes).toEqual({ add: [again[2]!.facts], change: [], remove: [] })
  expect(outcome).toMatchObject({ found: 3, added: 1, known: 1, rejectedBefore: 1 })
})

test('an untouched line is measured anew; one that is gone, or of widths not sought, goes or stays', () => {
  const [again, gone, wide] = [
    knownLine(line(0, 0, 60, 0)),
    knownLine(line(0, 50, 60, 50)),
    knownLine({ line: { xy: Float64Array.of(0, 90, 60, 90), width: 6 } }),
  ]
  const seen = { shape: line(0, 0.3, 70, 0.3), facts: lineFacts({ pairSpacingM: 5 }) }
  const { changes } = mergeSearch([again, gone, wide], [seen], lines, null)
  expect(changes.change).toMatchObject([{ id: again.mark.id, edit: { pairSpacingM: 5 } }])
  expect(changes.remove).toEqual([gone.mark.id])
})

test('an enclosure is known by its ground, and is no line that runs along it', () => {
  const outline = (x: number) => line(x, 0, x + 40, 0, x + 40, 40, x, 40, x, 0)
  const known40 = knownLine(outline(0), { kind: 'enclosure', state: 'rejected' })
  const enclosure = { shape: outline(3), facts: lineFacts({ kind: 'enclosure' }) }
  const side = { shape: line(0, 0, 40, 0), facts: lineFacts() }
  const { changes } = mergeSearch([known40], [enclosure, side], lines, null)
  expect(changes.add).toEqual([side.facts])
})
