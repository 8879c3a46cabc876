import { ActionIcon } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { useEffect, useState } from 'react'
import { createPortal } from 'react-dom'
import type { FindspotView } from '#contract'
import { gridNumber, latLonText, momentText } from '#ui'
import { useList } from '../api/queries.ts'
import { findText } from '../finds/find-text.ts'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './findspot-popup.module.css'
import type { Plan } from './plan.ts'

function factsOf(spot: FindspotView): readonly (readonly [string, string])[] {
  const facts: (readonly [string, string | null])[] = [
    ['Grid reference', spot.gridRef],
    ['Grid', `${gridNumber(spot.easting, 1)} E, ${gridNumber(spot.northing, 1)} N`],
    ['WGS84', latLonText(spot.lat, spot.lon)],
    [
      'Accuracy',
      spot.accuracyM === null ? 'not known' : `within ${Number(spot.accuracyM.toFixed(1))}\u202fm`,
    ],
    ['Found', spot.time === null ? null : momentText(spot.time)],
    ['Note', spot.note],
  ]
  return facts.filter((fact): fact is readonly [string, string] => fact[1] !== null && fact[1] !== '')
}

/** What is known of one findspot, with a cross to close it. */
export function FindspotCard({ spot }: { readonly spot: FindspotView }) {
  return (
    <section className={classes.popup} aria-label={`Findspot ${spot.name}`} data-testid="findspot-popup">
      <div className={classes.head}>
        <h2 className={classes.title}>{spot.name}</h2>
        <ActionIcon aria-label="Close" onClick={() => selection.set(null)} size={32}>
          <IconX size={16} aria-hidden="true" />
        </ActionIcon>
      </div>
      {spot.finds.length > 0 ? (
        <ul className={classes.finds}>
          {spot.finds.map((find, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: finds have no id of their own and are never reordered here.
            <li key={i}>{findText(find.number === spot.name ? { ...find, number: null } : find)}</li>
          ))}
        </ul>
      ) : null}
      <dl className={classes.facts}>
        {factsOf(spot).map(([name, value]) => (
          <div key={name} style={{ display: 'contents' }}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

/** The card of the findspot that is chosen, beside it on the map. Escape or a click elsewhere closes it. */
export function FindspotPopup({ made }: { readonly made: Plan }) {
  const chosen = useStore(selection)
  const findspots = useList('findspots')
  const [box] = useState(() => document.createElement('div'))
  const spot = chosen?.kind === 'findspot' ? findspots.find(({ id }) => id === chosen.id) : undefined
  useEffect(() => {
    made.popup.setElement(box)
    return () => made.popup.setElement(undefined)
  }, [made, box])
  useEffect(() => {
    made.popup.setPosition(spot ? [spot.easting, spot.northing] : undefined)
  }, [made, spot])
  if (!spot) return null
  return createPortal(<FindspotCard spot={spot} />, box)
}
