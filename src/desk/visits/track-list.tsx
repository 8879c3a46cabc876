import { Button } from '@mantine/core'
import { useState } from 'react'
import type { TrackView } from '#contract'
import { countText, momentText, Section } from '#ui'
import { useList } from '../api/queries.ts'
import { goToTrack } from '../map/choosing.ts'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './visits-panel.module.css'

const shownAtFirst = 8
/** Height of a row, kept free until the tracks have come. */
const rowRem = 3.75

function whenText(track: TrackView): string {
  const parts = [
    track.walked ? null : 'planned, not walked ground',
    track.start === null ? 'no times' : momentText(track.start),
    track.sourceFile,
  ]
  return parts.filter((part) => part !== null).join(' · ')
}

/** The tracks of the survey; one that is chosen is shown on the map. */
export function TrackList({ count }: { readonly count: number }) {
  const tracks = useList('tracks')
  const chosen = useStore(selection)
  const [all, setAll] = useState(false)
  if (count === 0) return null
  const shown = all ? tracks : tracks.slice(0, shownAtFirst)
  return (
    <Section title="Tracks" aside={countText(count, 'track')}>
      <ul className={classes.tight} style={{ minHeight: `${Math.min(count, shownAtFirst) * rowRem}rem` }}>
        {shown.map((track) => (
          <li key={track.id}>
            <button
              type="button"
              className={classes.track}
              aria-pressed={chosen?.kind === 'track' && chosen.id === track.id}
              onClick={() => goToTrack(track.id)}
            >
              <span className={classes.name}>{track.name}</span>
              <span className={classes.fixes}>{countText(track.fixes, 'fix', 'fixes')}</span>
              <span className={classes.when}>{whenText(track)}</span>
            </button>
          </li>
        ))}
      </ul>
      {tracks.length > shown.length ? (
        <Button className={classes.more ?? ''} variant="default" fullWidth onClick={() => setAll(true)}>
          Show all {tracks.length} tracks
        </Button>
      ) : null}
    </Section>
  )
}
