import { Button } from '@mantine/core'
import { IconMapPin } from '@tabler/icons-react'
import { useEffect, useId, useState } from 'react'
import type { FindEditRequest, FindView } from '#contract'
import { gridNumber } from '#ui'
import { useStore } from '../state/store.ts'
import { pointing } from './pointing.ts'
import classes from './record.module.css'

/** A button that asks for a place on the map; a second press asks no more. */
export function PointButton({ onPlace }: { readonly onPlace: (place: readonly [number, number]) => void }) {
  const [mine, setMine] = useState<((place: readonly [number, number]) => void) | null>(null)
  const asked = useStore(pointing)
  const on = asked !== null && asked === mine
  useEffect(
    () => () => {
      if (pointing.get() === mine) pointing.set(null)
    },
    [mine],
  )
  const toggle = (): void => {
    if (on) {
      pointing.set(null)
      return
    }
    const take = (place: readonly [number, number]): void => {
      pointing.set(null)
      onPlace(place)
    }
    setMine(() => take)
    pointing.set(() => take)
  }
  return (
    <Button
      variant="default"
      aria-pressed={on}
      leftSection={<IconMapPin size={16} aria-hidden="true" />}
      onClick={toggle}
    >
      {on ? 'Click on the map' : 'Point on the map'}
    </Button>
  )
}

type Place = NonNullable<FindEditRequest['place']>

interface PlaceFieldProps {
  readonly find: FindView
  readonly onChange: (place: Place | null) => void
}

/** Where it was found: shown, written in any notation, or pointed at; its accuracy, day and a note. */
export function PlaceField({ find, onChange }: PlaceFieldProps) {
  const id = useId()
  const { place } = find
  const [text, setText] = useState('')
  const settle = (): void => {
    if (text.trim() === '') return
    onChange({ text: text.trim() })
    setText('')
  }
  const now =
    place === null
      ? 'No findspot yet'
      : (place.gridRef ??
        (place.easting === null || place.northing === null
          ? `${place.lat.toFixed(6)}, ${place.lon.toFixed(6)}`
          : `${gridNumber(place.easting, 1)} E, ${gridNumber(place.northing, 1)} N`))
  return (
    <>
      <div className={classes.field} data-wide>
        <label htmlFor={id}>Findspot</label>
        <div className={classes.line}>
          <input
            id={id}
            className={classes.input}
            value={text}
            autoComplete="off"
            placeholder={now}
            aria-describedby={`${id}-said`}
            onChange={(event) => setText(event.currentTarget.value)}
            onBlur={settle}
            onKeyDown={(event) => {
              if (event.key === 'Enter') settle()
            }}
          />
          <PointButton onPlace={([easting, northing]) => onChange({ easting, northing })} />
        </div>
        <p id={`${id}-said`} className={classes.hint}>
          {place === null
            ? 'A grid reference, eastings and northings, or latitude and longitude.'
            : `Now ${now}${place.accuracyM === null ? '' : `, within ${Number(place.accuracyM.toFixed(1))} m`}${place.shared > 0 ? `; ${place.shared} more found there` : ''}.`}
        </p>
      </div>
      {place ? <PlaceBeside place={place} onChange={onChange} /> : null}
    </>
  )
}

interface PlaceBesideProps {
  readonly place: NonNullable<FindView['place']>
  readonly onChange: (place: Place) => void
}

function PlaceBeside({ place, onChange }: PlaceBesideProps) {
  const id = useId()
  const day = place.foundAt?.slice(0, 10) ?? ''
  const where: Place =
    place.easting === null || place.northing === null
      ? { text: `${place.lat.toFixed(9)}, ${place.lon.toFixed(9)}`, accuracyM: place.accuracyM }
      : { easting: place.easting, northing: place.northing, accuracyM: place.accuracyM }
  return (
    <>
      <div className={classes.field}>
        <label htmlFor={`${id}-day`}>Found on</label>
        <input
          id={`${id}-day`}
          type="date"
          className={classes.input}
          key={day}
          defaultValue={day}
          onBlur={({ currentTarget: { value } }) => {
            if (value !== day) onChange({ ...where, foundAt: value === '' ? null : `${value}T00:00:00.000Z` })
          }}
        />
      </div>
      <div className={classes.field}>
        <label htmlFor={`${id}-accuracy`}>Accuracy (m)</label>
        <input
          id={`${id}-accuracy`}
          className={classes.input}
          inputMode="decimal"
          key={String(place.accuracyM)}
          defaultValue={place.accuracyM === null ? '' : String(Number(place.accuracyM.toFixed(2)))}
          onBlur={({ currentTarget: { value } }) => {
            const accuracyM = value.trim() === '' ? null : Number(value.replace(',', '.'))
            if (accuracyM !== null && !(accuracyM > 0)) return
            if (
              accuracyM !== place.accuracyM &&
              String(accuracyM) !== String(Number(place.accuracyM?.toFixed(2)))
            )
              onChange({ ...where, accuracyM })
          }}
        />
      </div>
      <div className={classes.field} data-wide>
        <label htmlFor={`${id}-note`}>Note on the findspot</label>
        <input
          id={`${id}-note`}
          className={classes.input}
          key={place.note}
          defaultValue={place.note ?? ''}
          onBlur={({ currentTarget: { value } }) => {
            if (value !== (place.note ?? '')) onChange({ ...where, note: value === '' ? null : value })
          }}
        />
      </div>
    </>
  )
}
