import { Button, Textarea, TextInput } from '@mantine/core'
import { type FormEvent, useEffect, useState } from 'react'
import { type AreaKind, areaKinds } from '#contract'
import { areaText, Notice, Section } from '#ui'
import { sentenceOf } from '../api/request.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { plan } from '../map/map-state.ts'
import { type AreaDraft, changeDraft, dropDraft, keepDraft } from './area-draft.ts'
import { areaOf, cornersText, polygonsFrom } from './corners.ts'
import classes from './land-panel.module.css'

export const kindNames: Readonly<Record<AreaKind, string>> = {
  search: 'Ground to be searched',
  field: 'Bounds of a field',
  'no-go': 'To be left alone',
  hazard: 'Hazard',
}

/** The corners as text: to draw or change an area without a pointer, or from a list of coordinates. */
function CornersField({ draft }: { readonly draft: AreaDraft }) {
  const [text, setText] = useState(() => cornersText(draft.polygons))
  const [fault, setFault] = useState<string | null>(null)
  const [focused, setFocused] = useState(false)
  useEffect(() => {
    if (!focused) setText(cornersText(draft.polygons))
  }, [draft.polygons, focused])
  return (
    <details>
      <summary className={classes.summary}>Corners as coordinates</summary>
      <Textarea
        label="Easting and northing, one corner a line"
        description="An empty line begins another outline. One that lies inside another is ground left out."
        classNames={{ input: classes.corners ?? '' }}
        minRows={5}
        rows={8}
        value={text}
        error={fault}
        onFocus={() => setFocused(true)}
        onBlur={() => setFocused(fault !== null)}
        onChange={(event) => {
          setText(event.currentTarget.value)
          const read = polygonsFrom(event.currentTarget.value)
          setFault('fault' in read ? read.fault : null)
          if ('polygons' in read) changeDraft({ polygons: read.polygons, phase: 'edit' })
        }}
      />
    </details>
  )
}

function NameAndKind({ draft }: { readonly draft: AreaDraft }) {
  return (
    <>
      <TextInput
        label="Name"
        value={draft.name}
        maxLength={200}
        required
        withAsterisk={false}
        onChange={(event) => changeDraft({ name: event.currentTarget.value })}
      />
      <SelectRow
        label="What it is"
        value={draft.kind}
        choices={areaKinds.map((value) => ({ value, text: kindNames[value] }))}
        onChange={(kind) => changeDraft({ kind })}
      />
    </>
  )
}

/** The form of a search area, or of a permission's boundary, being drawn or changed. */
export function DraftForm({ draft }: { readonly draft: AreaDraft }) {
  const [fault, setFault] = useState<string | null>(null)
  const [saving, setSaving] = useState(false)
  const drawn = draft.polygons.length > 0
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setFault(null)
    setSaving(true)
    try {
      await keepDraft()
    } catch (error) {
      setFault(sentenceOf(error))
    }
    setSaving(false)
  }
  return (
    <Section>
      <form className={classes.fields} onSubmit={(event) => void save(event)} noValidate>
        {draft.phase === 'draw' ? (
          <Notice tone="plain" action={{ label: 'Close the outline', run: () => plan.get()?.finishDraft() }}>
            Click the corners on the map, one after another. A double click, or Enter, closes the outline.
            Backspace takes the last corner back.
          </Notice>
        ) : (
          <p className={classes.hint}>
            Drag a corner to move it, or an edge to add one. Alt and a click on a corner takes it away.
          </p>
        )}
        {draft.permission === null ? <NameAndKind draft={draft} /> : null}
        <p className={classes.live}>
          <span>Area</span>
          <output className={classes.liveValue} data-testid="draft-area">
            {drawn ? areaText(areaOf(draft.polygons)) : '–'}
          </output>
        </p>
        <CornersField draft={draft} />
        {fault ? <Notice tone="fault">{fault}</Notice> : null}
        <div className={classes.buttons}>
          <Button type="submit" disabled={!drawn || draft.name.trim() === ''} loading={saving}>
            {draft.permission === null ? 'Save the area' : 'Save the boundary'}
          </Button>
          <Button variant="default" onClick={dropDraft}>
            Cancel
          </Button>
        </div>
      </form>
    </Section>
  )
}
