import { ActionIcon, Button, TextInput } from '@mantine/core'
import { IconTrash } from '@tabler/icons-react'
import { type FormEvent, useState } from 'react'
import type { NoteKind, Permission } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { tellFault } from '../state/notices.ts'
import classes from './land-panel.module.css'

const kinds: readonly { readonly value: NoteKind; readonly text: string }[] = [
  { value: 'crop', text: 'Crop' },
  { value: 'ground', text: 'State of the ground' },
  { value: 'access', text: 'Access' },
]

async function acted(act: () => Promise<unknown>): Promise<void> {
  try {
    await act()
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

/** Crop, state of the ground and access by day, the latest first. */
export function GroundNotes({ permission }: { readonly permission: Permission }) {
  const [kind, setKind] = useState<NoteKind>('crop')
  const [note, setNote] = useState('')
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const notedOn = new Date().toLocaleDateString('sv-SE')
    await acted(() => deskApi.addNote(permission.id, { kind, notedOn, note: note.trim() }))
    setNote('')
  }
  return (
    <form className={classes.fields} onSubmit={(event) => void add(event)}>
      <SelectRow label="Note of today" value={kind} choices={kinds} onChange={setKind} />
      <TextInput
        label="What is seen"
        placeholder="Winter wheat, sown and up"
        value={note}
        maxLength={2000}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
      <Button type="submit" variant="default" size="compact-md" disabled={note.trim() === ''}>
        Add the note
      </Button>
      <ul className={classes.notes}>
        {permission.notes.map((each) => (
          <li key={each.id}>
            <span>
              {each.notedOn}, {kinds.find(({ value }) => value === each.kind)?.text.toLowerCase()}:{' '}
              {each.note}
            </span>
            <ActionIcon
              aria-label={`Delete the note of ${each.notedOn}`}
              onClick={() => void acted(() => deskApi.removeNote(each.id))}
            >
              <IconTrash size={18} aria-hidden="true" />
            </ActionIcon>
          </li>
        ))}
      </ul>
    </form>
  )
}
