import { ActionIcon } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { useEffect, useState } from 'react'
import { createPortal } from 'react-dom'
import type { FindspotView } from '#contract'
import { type Fact, FactList, gridNumber, latLonText, momentText, plainPair } from '#ui'
import { useList } from '../api/queries.ts'
import { findText } from '../finds/find-text.ts'
import { openFind } from '../finds/finds-state.ts'
import { copyText } from '../state/copy.ts'
import { panelOpen, selection, stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './findspot-popup.module.css'
import type { Plan } from './plan.ts'

function accuracyText(accuracyM: number | null): string {
  return accuracyM === null ? 'not known' : `within ${Number(accuracyM.toFixed(1))}\u202fm`
}

function factsOf(spot: FindspotView): Fact[] {
  const { gridRef, easting, northing, time, note } = spot
  const degrees = latLonText(spot.lat, spot.lon)
  const facts: Fact[] = [
    { name: 'Grid reference', value: gridRef ?? '', copy: gridRef ?? undefined },
    {
      name: 'Grid',
      value: `${gridNumber(easting, 1)} E, ${gridNumber(northing, 1)} N`,
      copy: plainPair(easting, northing),
    },
    { name: 'WGS84', value: degrees, copy: degrees },
    { name: 'Accuracy', value: accuracyText(spot.accuracyM) },
    { name: 'Found', value: time === null ? '' : momentText(time) },
    { name: 'Note', value: note ?? '' },
  ]
  return facts.filter(({ value }) => value !== '')
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
      <div className={classes.facts}>
        <FactList facts={factsOf(spot)} onCopy={(text) => void copyText(text)} />
      </div>
    </section>
  )
}

/** The card of the findspot that is chosen, beside it on the map. Escape or a click elsewhere closes it. */
export function FindspotPopup({ made }: { readonly made: Plan }) {
  const chosen = useStore(selection)
  const findspots = useList('findspots')
  // The record tells all that the popup does.
  const opened = useStore(openFind) !== null
  const shown = useStore(panelOpen)
  const recordOpen = useStore(stage) === 'finds' && opened && shown
  const [box] = useState(() => document.createElement('div'))
  const spot = chosen?.kind === 'findspot' ? findspots.find(({ id }) => id === chosen.id) : undefined
  useEffect(() => {
    made.popup.setElement(box)
    return () => made.popup.setElement(undefined)
  }, [made, box])
  useEffect(() => {
    made.popup.setPosition(spot && !recordOpen ? [spot.easting, spot.northing] : undefined)
  }, [made, spot, recordOpen])
  if (!spot || recordOpen) return null
  return createPortal(<FindspotCard spot={spot} />, box)
}
