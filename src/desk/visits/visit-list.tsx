import type { ChancesSummary, Visit } from '#contract'
import { countText, Section, shareText } from '#ui'
import { useChancesKept, useList } from '../api/queries.ts'
import { goTo, plan } from '../map/map-state.ts'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { VisitCard } from './visit-card.tsx'
import classes from './visits-panel.module.css'
import { openVisit, replayAt } from './visits-state.ts'

function aboutText({ person, tracks, findspots, weather }: Visit): string {
  const parts = [
    person,
    countText(tracks.length, 'track'),
    findspots > 0 ? countText(findspots, 'findspot') : null,
    weather,
  ]
  return parts.filter((part) => part !== null).join(' · ')
}

/** What the chances last worked out say of one visit, the newest first: 21.5 % sensed. */
function chanceText(id: number, kept: readonly ChancesSummary[]): string {
  const newest = kept.findLast(({ visits }) => visits.some((visit) => visit.id === id))
  const share = newest?.visits.find((visit) => visit.id === id)?.expectedShare
  if (newest === undefined || share === undefined) return ''
  return `${shareText(share)} sensed${newest.stale ? ', out of date' : ''}`
}

function toggle(visit: Visit): void {
  replayAt.set(null)
  const opens = openVisit.get() !== visit.id
  openVisit.set(opens ? visit.id : null)
  if (!opens) return
  // A chosen track would hide the speeds.
  if (selection.get()?.kind === 'track') selection.set(null)
  if (visit.tracks.length === 1) goTo(plan.get()?.boundsOfTrack(visit.tracks[0]!) ?? null)
}

/** The visits in order of days; one that is open shows its card, and its speeds on the map. */
export function VisitList() {
  const visits = useList('visits')
  const open = useStore(openVisit)
  const kept = useChancesKept()
  if (visits.length === 0) return null
  const shown = visits.find(({ id }) => id === open)
  return (
    <Section title="Visits" aside={countText(visits.length, 'visit')}>
      <ul className={classes.tight} data-testid="visit-list">
        {visits.map((visit) => (
          <li key={visit.id}>
            <button
              type="button"
              className={classes.track}
              aria-expanded={visit.id === open}
              data-open={visit.id === open || undefined}
              onClick={() => toggle(visit)}
            >
              <span className={classes.name}>{visit.name}</span>
              <span className={classes.fixes}>{chanceText(visit.id, kept)}</span>
              <span className={classes.when}>{aboutText(visit)}</span>
            </button>
          </li>
        ))}
      </ul>
      {shown ? <VisitCard key={shown.id} visit={shown} /> : null}
    </Section>
  )
}
