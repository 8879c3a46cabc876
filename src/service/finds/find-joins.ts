import type { JoinEdit, JoinView, ProposedJoins, ProposeJoins } from '#contract'
import { SurveyError } from '#core/faults'
import { vocabularyOf } from '#core/finds'
import type { PlanarGrid } from '#core/geodesy'
import { fragmentsOf, joiningPairs, type Pair, proposeJoins } from '#core/joins'
import type { CataloguedFind, FindCatalogue, JoinState, StoredJoin } from '#store'
import { planarFindspot } from '../views.ts'
import { vocabularies } from './vocabularies.ts'

/** A half is what nothing known comes to; this takes like material and nearness at the least. Our own choice. */
const leastScore = 0.65
const mostProposals = 40

type Places = ReadonlyMap<string, readonly [number, number] | null>

function placesOf(finds: readonly CataloguedFind[], grid: PlanarGrid | null): Places {
  return new Map(
    finds.map(({ record, foundAt }) => [record.number, foundAt && grid && planarFindspot(foundAt, grid)]),
  )
}

/** All joins, with the distance between their findspots. Cost: the finds once. */
export function joinViews(catalogue: FindCatalogue, grid: PlanarGrid | null): JoinView[] {
  const joins = catalogue.joins()
  if (joins.length === 0) return []
  const finds = catalogue.all()
  const places = placesOf(finds, grid)
  const numbers = new Map(finds.map(({ id, record }) => [id, record.number]))
  const placeOf = (id: number) => places.get(numbers.get(id) ?? '')
  return joins.map(({ first, second, state, score, reasons, note }) => {
    const [a, b] = [placeOf(first), placeOf(second)]
    const distanceM = a && b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : null
    return { first, second, state, score, note, reasons: [...reasons], distanceM }
  })
}

/** Puts forward pairs of fragments that nobody has decided on. Cost: grows with the pairs that lie near one another. */
export function lookForJoins(
  catalogue: FindCatalogue,
  grid: PlanarGrid | null,
  { spreadM, farthestM }: ProposeJoins,
): ProposedJoins {
  const finds = catalogue.all()
  const places = placesOf(finds, grid)
  const byNumber = new Map(finds.map((find) => [find.record.number, find]))
  const numberOf = new Map(finds.map(({ id, record }) => [id, record.number]))
  const fragments = fragmentsOf(
    finds.map(({ record }) => record),
    ({ number }) => {
      const place = places.get(number)
      const accuracyM = byNumber.get(number)?.foundAt?.accuracyM ?? null
      return place ? { easting: place[0], northing: place[1], accuracyM } : null
    },
  )
  const decided = catalogue
    .joins()
    .map(({ first, second }): Pair => [numberOf.get(first) ?? '', numberOf.get(second) ?? ''])
  const proposals = proposeJoins(fragments, {
    materials: vocabularyOf(vocabularies().materials.terms),
    spreadM,
    farthestM,
    leastScore,
    most: mostProposals,
    decided,
  })
  catalogue.writeJoins(
    proposals.map(({ pair: [a, b], score, reasons }) => ({
      first: byNumber.get(a)!.id,
      second: byNumber.get(b)!.id,
      state: 'proposed',
      score,
      reasons: reasons.map(({ text }) => text),
      note: null,
    })),
    `${proposals.length} joins put forward`,
  )
  return { added: proposals.length, fragments: fragments.length }
}

const between = (joins: readonly StoredJoin[], first: number, second: number): StoredJoin | undefined =>
  joins.find((join) => [join.first, join.second].sort().join() === [first, second].sort().join())

/** Decides on the join of two finds; what was worked out of it stays. */
export function decideJoin(catalogue: FindCatalogue, { first, second, state, note }: JoinEdit): void {
  if (first === second)
    throw new SurveyError('bad-value', 'A find cannot be joined to itself: name two finds.')
  const [join] = decided(catalogue.joins(), [[first, second]], state)
  const [a, b] = [first, second].map((id) => catalogue.one(id).record.number)
  catalogue.writeJoins(
    [{ ...join!, ...(note === undefined ? {} : { note }) }],
    `join of ${a} and ${b}: ${state}`,
  )
}

const byHand = 'joined by hand'

/** Finds of a few ids, each once. Faults: 'not-found', 'bad-value' for fewer than two. */
function fewFinds(catalogue: FindCatalogue, ids: readonly number[]): CataloguedFind[] {
  const finds = [...new Set(ids)].map((id) => catalogue.one(id))
  if (finds.length < 2)
    throw new SurveyError('bad-value', 'A find cannot be joined to itself: name two finds.')
  return finds
}

function decided(
  joins: readonly StoredJoin[],
  pairs: readonly (readonly [number, number])[],
  state: JoinState,
) {
  return pairs.map(([first, second]) => {
    const known = between(joins, first, second)
    const said = {
      score: known?.score ?? null,
      reasons: known?.reasons ?? (state === 'accepted' ? [byHand] : []),
      note: known?.note ?? null,
    }
    return { first, second, state, ...said }
  })
}

/** Makes finds one group by accepted joins, as few and as short as can be. One step; nothing where they are one already. */
export function joinTogether(
  catalogue: FindCatalogue,
  grid: PlanarGrid | null,
  ids: readonly number[],
): void {
  const finds = fewFinds(catalogue, ids)
  const places = placesOf(finds, grid)
  const numberOf = new Map(finds.map(({ id, record }) => [id, record.number]))
  const idOf = new Map(finds.map(({ id, record }) => [record.number, id]))
  const joins = catalogue.joins()
  const joined = joins.flatMap(({ first, second, state }): Pair[] => {
    const [a, b] = [numberOf.get(first), numberOf.get(second)]
    return state === 'accepted' && a !== undefined && b !== undefined ? [[a, b]] : []
  })
  const pairs = joiningPairs(
    finds.map(({ record: { number } }) => ({ number, place: places.get(number) ?? null })),
    joined,
  ).map(([a, b]) => [idOf.get(a)!, idOf.get(b)!] as const)
  catalogue.writeJoins(decided(joins, pairs, 'accepted'), `joining of ${finds.length} finds`)
}

/** Takes every accepted join among the finds back: these pairs are no joins. One step. */
export function partFinds(catalogue: FindCatalogue, ids: readonly number[]): void {
  const finds = fewFinds(catalogue, ids)
  const among = new Set(finds.map(({ id }) => id))
  const joins = catalogue.joins()
  const pairs = joins
    .filter(({ state, first, second }) => state === 'accepted' && among.has(first) && among.has(second))
    .map(({ first, second }) => [first, second] as const)
  catalogue.writeJoins(decided(joins, pairs, 'rejected'), `parting of ${finds.length} finds`)
}
