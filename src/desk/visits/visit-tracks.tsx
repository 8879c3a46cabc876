import type { Visit } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { tellFault } from '../state/notices.ts'
import classes from './visits-panel.module.css'
import { countTrack, openVisit } from './visits-state.ts'

const own = 'own'

async function move(track: number, to: string): Promise<void> {
  try {
    const { id } = await deskApi.moveTrack(track, to === own ? null : Number(to))
    openVisit.set(id)
  } catch (error) {
    tellFault(error)
  }
  await refreshSurvey()
}

/** The tracks of a visit, each with the visit it is to belong to: two people on one day are two visits. */
export function VisitTracks({ visit }: { readonly visit: Visit }) {
  const visits = useList('visits')
  const tracks = useList('tracks').filter(({ id }) => visit.tracks.includes(id))
  if (tracks.length === 0) return null
  const choices = visits.map(({ id, name, person }) => ({
    value: String(id),
    text: person === null ? name : `${name}, ${person}`,
  }))
  return (
    <details>
      <summary className={classes.summary}>Tracks of this visit</summary>
      {tracks.map(({ id, name, walked }) => (
        <div key={id}>
          <label className={classes.check}>
            <input
              type="checkbox"
              checked={walked}
              onChange={(event) => void countTrack(id, event.currentTarget.checked)}
            />
            {name} counts as walked ground
          </label>
          {walked ? (
            <SelectRow
              label={`${name} belongs to`}
              value={String(visit.id)}
              choices={tracks.length > 1 ? [...choices, { value: own, text: 'a visit of its own' }] : choices}
              onChange={(to) => void move(id, to)}
            />
          ) : null}
        </div>
      ))}
    </details>
  )
}
