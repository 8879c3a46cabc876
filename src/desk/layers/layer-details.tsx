import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useId, useState } from 'react'
import type { Layer, LayerEdit } from '#contract'
import { editLayer, keepInside, removeLayer } from './layer-acts.ts'
import classes from './layers.module.css'

interface Draft {
  readonly name: string
  readonly takenOn: string
  readonly attribution: string
  readonly kind: Layer['kind']
  readonly nearInfraredBand: string
}

const draftOf = (layer: Layer): Draft => ({
  name: layer.name,
  takenOn: layer.takenOn ?? '',
  attribution: layer.attribution ?? '',
  kind: layer.kind,
  nearInfraredBand: layer.nearInfraredBand ? String(layer.nearInfraredBand) : '',
})

/** Only what differs from the layer as it is. */
function editOf(layer: Layer, draft: Draft): LayerEdit {
  const before = draftOf(layer)
  const differs = (key: keyof Draft): boolean => draft[key].trim() !== before[key]
  return {
    ...(differs('name') ? { name: draft.name.trim() } : {}),
    ...(differs('takenOn') ? { takenOn: draft.takenOn === '' ? null : draft.takenOn } : {}),
    ...(differs('attribution') ? { attribution: draft.attribution.trim() || null } : {}),
    ...(differs('kind') ? { kind: draft.kind } : {}),
    ...(differs('nearInfraredBand') ? { nearInfraredBand: Number(draft.nearInfraredBand) || null } : {}),
  }
}

function Choice({
  label,
  value,
  choices,
  onChange,
}: {
  readonly label: string
  readonly value: string
  readonly choices: readonly (readonly [value: string, text: string])[]
  readonly onChange: (value: string) => void
}) {
  const id = useId()
  return (
    <div className={classes.select}>
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.currentTarget.value)}>
        {choices.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </div>
  )
}

/** What the survey keeps of a layer. Saved together, one step of Undo. */
function DetailsForm({ layer }: { readonly layer: Layer }) {
  const [draft, setDraft] = useState(() => draftOf(layer))
  const [saving, setSaving] = useState(false)
  const change = (part: Partial<Draft>): void => setDraft((now) => ({ ...now, ...part }))
  const edit = editOf(layer, draft)
  const bands = Array.from({ length: layer.bands }, (_, i) => [String(i + 1), `Band ${i + 1}`] as const)
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setSaving(true)
    await editLayer(layer, edit)
    setSaving(false)
  }
  return (
    <form className={classes.form} onSubmit={(event) => void save(event)} noValidate>
      <TextInput
        label="Name"
        value={draft.name}
        maxLength={200}
        onChange={(event) => change({ name: event.currentTarget.value })}
      />
      <TextInput
        label="Day it was taken"
        type="date"
        value={draft.takenOn}
        onChange={(event) => change({ takenOn: event.currentTarget.value })}
      />
      <TextInput
        label="Whose it is"
        description="Stands on the map while the layer is shown"
        value={draft.attribution}
        maxLength={500}
        onChange={(event) => change({ attribution: event.currentTarget.value })}
      />
      {layer.bands === 1 ? (
        <Choice
          label="Kind"
          value={draft.kind}
          choices={[
            ['image', 'Image'],
            ['terrain', 'Terrain model'],
          ]}
          onChange={(kind) => change({ kind: kind as Layer['kind'] })}
        />
      ) : null}
      {layer.bands > 3 ? (
        <Choice
          label="Near infrared"
          value={draft.nearInfraredBand}
          choices={[['', 'None'], ...bands]}
          onChange={(nearInfraredBand) => change({ nearInfraredBand })}
        />
      ) : null}
      <div className={classes.buttons}>
        <Button
          type="submit"
          variant="default"
          loading={saving}
          disabled={draft.name.trim() === '' || Object.keys(edit).length === 0}
        >
          Save
        </Button>
      </div>
    </form>
  )
}

/** Name, day and the rest, folded away; and what is done with the layer as a whole. */
export function LayerDetails({ layer }: { readonly layer: Layer }) {
  // Another state of the layer begins the form anew.
  const key = JSON.stringify(draftOf(layer))
  return (
    <details className={classes.details}>
      <summary>Name, day and file</summary>
      <DetailsForm key={key} layer={layer} />
      <p className={classes.hint}>
        {layer.fileName}
        {layer.inside ? ', kept inside the survey file' : ', kept outside the survey file'}
        {layer.epsg === null ? '' : `, EPSG:${layer.epsg}`}
        {layer.expectedErrorM === null
          ? ''
          : `; its place may be out by some ${layer.expectedErrorM.toPrecision(2)} m`}
      </p>
      <div className={classes.buttons}>
        {layer.inside || !layer.found ? null : (
          <Button variant="default" size="compact-sm" onClick={() => void keepInside(layer)}>
            Keep inside the survey
          </Button>
        )}
        <Button variant="default" color="clay" size="compact-sm" onClick={() => void removeLayer(layer)}>
          Take out of the survey
        </Button>
      </div>
    </details>
  )
}
