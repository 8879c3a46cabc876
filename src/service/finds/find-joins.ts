import type { JoinView, ProposedJoins, ProposeJoins } from '#contract'
import { vocabularyOf } from '#core/finds'
import type { PlanarGrid } from '#core/geodesy'
import { fragmentsOf, type Pair, proposeJoins } from '#core/joins'
import type { CataloguedFind, FindCatalogue } from '#store'
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
