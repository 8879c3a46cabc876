import type { SurveyView } from '#contract'
import { MeasureCard } from '../measure/measure-card.tsx'
import { measure } from '../measure/measure-state.ts'
import { PlaceCard } from '../places/place-card.tsx'
import { shownPlace } from '../places/shown-place.ts'
import { cardsInFront, upperCard } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { useRoomy } from '../state/wide.ts'

/** Where the cards stand now: on the map, in the panel's place, or nowhere. */
export function useCardsAt(): 'map' | 'panel' | null {
  const any = [useStore(measure), useStore(shownPlace)].some((one) => one !== null)
  const inFront = useStore(cardsInFront)
  const roomy = useRoomy()
  if (!any) return null
  return roomy ? 'map' : inFront ? 'panel' : null
}

/** The cards of what is measured and of the place that was asked for. */
export function Cards({ survey }: { readonly survey: SurveyView | null }) {
  const measuring = useStore(measure)
  const place = useStore(shownPlace)
  const grid = survey?.grid ?? null
  const cards = [
    place ? <PlaceCard key="place" place={place} grid={grid} /> : null,
    measuring && grid ? <MeasureCard key="measure" now={measuring} grid={grid} /> : null,
  ]
  return useStore(upperCard) === 'place' ? cards : cards.toReversed()
}
