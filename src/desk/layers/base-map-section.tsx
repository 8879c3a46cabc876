import { ActionIcon, Button, TextInput } from '@mantine/core'
import { IconTrash } from '@tabler/icons-react'
import { type FormEvent, useState } from 'react'
import type { BaseMap, BaseMaps } from '#contract'
import { Notice, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { queryClient, useBaseMaps } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { loadAnew } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { kindOfAddress, serverOf } from './base-map-words.ts'
import classes from './layers.module.css'

/** Keeps another list. Where another map is shown by it the page is loaded anew, for what it may ask was settled when it was loaded. */
async function keep(before: BaseMaps, next: BaseMaps): Promise<void> {
  await deskApi.keepBaseMaps(next)
  if (before.maps[before.shown ?? -1] !== next.maps[next.shown ?? -1]) loadAnew()
  else queryClient.setQueryData(['base-maps'], next)
}

function show(now: BaseMaps, shown: number | null): void {
  keep(now, { ...now, shown }).catch(tellFault)
}

function remove(now: BaseMaps, place: number): void {
  const shown = now.shown === null || now.shown === place ? null : now.shown - (now.shown > place ? 1 : 0)
  keep(now, { maps: now.maps.filter((_, i) => i !== place), shown }).catch(tellFault)
}

const emptyMap = { name: '', address: '', layer: '', attribution: '' }

function NewMapForm({ now }: { readonly now: BaseMaps }) {
  const [draft, setDraft] = useState(emptyMap)
  const [fault, setFault] = useState<string | null>(null)
  const change = (part: Partial<typeof emptyMap>): void => setDraft((was) => ({ ...was, ...part }))
  const kind = kindOfAddress(draft.address)
  const complete = [draft.name, draft.address, draft.attribution].every((text) => text.trim() !== '')
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const { name, address, layer, attribution } = draft
    const map: BaseMap = {
      name: name.trim(),
      kind,
      address: address.trim(),
      layer: kind === 'wmts' ? layer.trim() || null : null,
      attribution: attribution.trim(),
    }
    try {
      await keep(now, { ...now, maps: [...now.maps, map] })
      setDraft(emptyMap)
      setFault(null)
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <details className={classes.details}>
      <summary>Add a base map</summary>
      <form className={classes.form} onSubmit={(event) => void save(event)} noValidate>
        <TextInput
          label="Name of the map"
          value={draft.name}
          maxLength={100}
          onChange={(event) => change({ name: event.currentTarget.value })}
        />
        <TextInput
          label="Address"
          description="Tiles with {z}, {x} and {y} in it, or the capabilities of a WMTS"
          autoComplete="off"
          spellCheck={false}
          value={draft.address}
          onChange={(event) => change({ address: event.currentTarget.value })}
        />
        {kind === 'wmts' && draft.address !== '' ? (
          <TextInput
            label="Layer of the WMTS"
            description="Empty: its first"
            value={draft.layer}
            onChange={(event) => change({ layer: event.currentTarget.value })}
          />
        ) : null}
        <TextInput
          label="Whose map it is"
          description="Stands on the map, as its owner asks"
          value={draft.attribution}
          maxLength={500}
          onChange={(event) => change({ attribution: event.currentTarget.value })}
        />
        {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
        <Button type="submit" variant="default" disabled={!complete}>
          Add it, without showing it
        </Button>
      </form>
    </details>
  )
}

function MapRow({
  map,
  place,
  now,
}: {
  readonly map: BaseMap
  readonly place: number
  readonly now: BaseMaps
}) {
  const shown = now.shown === place
  return (
    <li className={classes.baseRow}>
      <span className={classes.words}>
        <span className={classes.name}>{map.name}</span>
        <span className={classes.facts}>{serverOf(map)}</span>
      </span>
      <Button
        variant={shown ? 'filled' : 'default'}
        size="compact-sm"
        aria-pressed={shown}
        aria-label={`${shown ? 'Hide' : 'Show'} ${map.name}`}
        onClick={() => show(now, shown ? null : place)}
      >
        {shown ? 'Hide' : 'Show'}
      </Button>
      <ActionIcon aria-label={`Remove ${map.name}`} title="Remove" onClick={() => remove(now, place)}>
        <IconTrash size={18} aria-hidden="true" />
      </ActionIcon>
    </li>
  )
}

/** Maps of other people's servers: none until the user gives an address, and off until it is switched on. */
export function BaseMapSection() {
  const { data: now, error } = useBaseMaps()
  return (
    <Section title="Base map" aside={now?.shown === null ? 'off' : undefined}>
      <div className={classes.form}>
        <p className={classes.hint}>
          None is built in. While one is shown, its server is asked for the places that you look at, and so
          learns them. Showing or hiding one loads the page anew.
        </p>
        {error ? <Notice tone="fault">{sentenceOf(error)}</Notice> : null}
        {now && now.maps.length > 0 ? (
          <ul className={classes.list}>
            {now.maps.map((map, place) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: two maps may be alike, and a map is told by its place.
              <MapRow key={place} map={map} place={place} now={now} />
            ))}
          </ul>
        ) : null}
        {now ? <NewMapForm now={now} /> : null}
      </div>
    </Section>
  )
}
