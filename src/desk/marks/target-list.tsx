import { ActionIcon, Button, TextInput } from '@mantine/core'
import { IconPencil, IconTrash } from '@tabler/icons-react'
import { type FormEvent, useState } from 'react'
import type { Target } from '#contract'
import { countText, gridNumber, Section, TargetSwatch } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { plan } from '../map/map-state.ts'
import { selection } from '../state/desk-state.ts'
import { tell, tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import classes from './marks.module.css'

function goToTarget(target: Target): void {
  selection.set({ kind: 'target', id: target.id })
  plan.get()?.lookAt(target.easting, target.northing)
}

async function remove(target: Target): Promise<void> {
  try {
    await deskApi.removeTarget(target.id)
    selection.set(null)
    tell('good', `Took the target ${target.name} out.`, { label: 'Undo', run: () => void undoLast() })
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

function RenameForm({ target, onEnd }: { readonly target: Target; readonly onEnd: () => void }) {
  const [name, setName] = useState(target.name)
  const [note, setNote] = useState(target.note ?? '')
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    try {
      await deskApi.changeTarget(target.id, { name, note: note.trim() === '' ? null : note.trim() })
      await refreshSurvey()
      onEnd()
    } catch (error) {
      tellFault(error)
    }
  }
  return (
    <form className={classes.rename} onSubmit={(event) => void save(event)}>
      <TextInput
        label="Name"
        value={name}
        maxLength={200}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <TextInput
        label="Note"
        value={note}
        maxLength={2000}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
      <div className={classes.kinds}>
        <Button type="submit" size="compact-md" disabled={name.trim() === ''}>
          Save
        </Button>
        <Button variant="default" size="compact-md" onClick={onEnd}>
          Cancel
        </Button>
      </div>
    </form>
  )
}

function TargetRow({ target, chosen }: { readonly target: Target; readonly chosen: boolean }) {
  const [changing, setChanging] = useState(false)
  const place = target.gridRef ?? `${gridNumber(target.easting)} ${gridNumber(target.northing)}`
  return (
    <li data-chosen={chosen || undefined} className={classes.targetRow}>
      <div className={classes.target}>
        <button
          type="button"
          className={classes.targetName}
          aria-pressed={chosen}
          onClick={() => goToTarget(target)}
        >
          <TargetSwatch />
          <span className={classes.words}>
            <span className={classes.name}>{target.name}</span>
            <span className={classes.facts}>{target.note ? `${place} · ${target.note}` : place}</span>
          </span>
        </button>
        <ActionIcon
          aria-label={`Change the target ${target.name}`}
          title="Change name or note"
          onClick={() => setChanging(!changing)}
        >
          <IconPencil size={18} aria-hidden="true" />
        </ActionIcon>
        <ActionIcon
          aria-label={`Delete the target ${target.name}`}
          title="Delete"
          onClick={() => void remove(target)}
        >
          <IconTrash size={18} aria-hidden="true" />
        </ActionIcon>
      </div>
      {changing ? <RenameForm target={target} onEnd={() => setChanging(false)} /> : null}
    </li>
  )
}

/** The points worth walking to. */
export function TargetList() {
  const targets = useList('targets')
  const chosen = useStore(selection)
  if (targets.length === 0) return null
  return (
    <Section title="Targets" aside={countText(targets.length, 'target')}>
      <ul className={classes.list} data-testid="target-list">
        {targets.map((target) => (
          <TargetRow
            key={target.id}
            target={target}
            chosen={chosen?.kind === 'target' && chosen.id === target.id}
          />
        ))}
      </ul>
    </Section>
  )
}
