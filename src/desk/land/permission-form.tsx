import { Button, Checkbox, FileButton, Textarea, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Permission } from '#contract'
import { FormRow, Notice } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { tellFault } from '../state/notices.ts'
import { saveAgreement } from '../survey/save-file.ts'
import { GroundNotes } from './ground-notes.tsx'
import classes from './land-panel.module.css'
import { PermissionBoundary } from './permission-boundary.tsx'
import { changePermissionDraft, openPermission, type PermissionDraft } from './permission-draft.ts'

type TextKey = 'holder' | 'contact' | 'terms' | 'findsShare' | 'access'
const texts: readonly { readonly key: TextKey; readonly label: string; readonly long: boolean }[] = [
  { key: 'holder', label: 'Given by', long: false },
  { key: 'contact', label: 'How to reach them', long: false },
  { key: 'terms', label: 'Terms', long: true },
  { key: 'findsShare', label: 'Share of finds agreed', long: true },
  { key: 'access', label: 'Access: gates, where to leave the car', long: true },
]

interface FieldsProps {
  readonly draft: PermissionDraft
  readonly change: (edit: Partial<PermissionDraft>) => void
}

function DayRow({
  label,
  of,
  change,
}: {
  label: string
  of: string | null
  change: (day: string | null) => void
}) {
  return (
    <FormRow
      label={label}
      control={(id) => (
        <input
          id={id}
          className={classes.day}
          type="date"
          value={of ?? ''}
          onChange={(event) => change(event.currentTarget.value === '' ? null : event.currentTarget.value)}
        />
      )}
    />
  )
}

function Fields({ draft, change }: FieldsProps) {
  const areas = useList('areas')
  return (
    <>
      <TextInput
        label="Name of the permission"
        value={draft.name}
        maxLength={200}
        onChange={(event) => change({ name: event.currentTarget.value })}
      />
      <SelectRow
        label="For"
        value={draft.areaId === null ? '' : String(draft.areaId)}
        choices={[
          { value: '', text: 'No one area' },
          ...areas.map(({ id, name }) => ({ value: String(id), text: name })),
        ]}
        onChange={(value) => change({ areaId: value === '' ? null : Number(value) })}
      />
      <DayRow label="First day" of={draft.startsOn} change={(startsOn) => change({ startsOn })} />
      <DayRow label="Last day" of={draft.endsOn} change={(endsOn) => change({ endsOn })} />
      {texts.map(({ key, label, long }) => {
        const Field = long ? Textarea : TextInput
        return (
          <Field
            key={key}
            label={label}
            value={draft[key] ?? ''}
            maxLength={4000}
            onChange={(event) =>
              change({ [key]: event.currentTarget.value === '' ? null : event.currentTarget.value })
            }
          />
        )
      })}
      <p className={classes.hint}>
        Who gave it and how to reach them stay in this survey: no export holds them.
      </p>
    </>
  )
}

/** The written agreement: kept inside, or only known by its name and SHA-256. */
function Agreement({ permission }: { readonly permission: Permission }) {
  const [inside, setInside] = useState(true)
  const { agreement, id } = permission
  const attach = async (file: File | null): Promise<void> => {
    if (!file) return
    try {
      await deskApi.attachAgreement(id, file, inside)
      await refreshSurvey()
    } catch (error) {
      tellFault(error)
    }
  }
  return (
    <div className={classes.fields}>
      <p className={classes.hint}>
        {agreement
          ? `Agreement: ${agreement.name}, ${agreement.inside ? 'kept inside the survey' : 'kept elsewhere'}. SHA-256 ${agreement.sha256.slice(0, 12)}…`
          : 'No written agreement is attached.'}
      </p>
      <Checkbox
        label="Keep the file inside the survey"
        checked={inside}
        onChange={(event) => setInside(event.currentTarget.checked)}
      />
      <div className={classes.buttons}>
        <FileButton onChange={(file) => void attach(file)} inputProps={{ 'aria-label': 'Agreement file' }}>
          {(props) => (
            <Button {...props} variant="default" size="compact-md">
              {agreement ? 'Another agreement' : 'Attach the agreement'}
            </Button>
          )}
        </FileButton>
        {agreement?.inside ? (
          <Button
            variant="default"
            size="compact-md"
            onClick={() => void saveAgreement(id).catch((error: unknown) => tellFault(error))}
          >
            Save it
          </Button>
        ) : null}
      </div>
    </div>
  )
}

/** The form of a permission, new or changed. */
export function PermissionForm({
  permission,
  draft,
}: {
  readonly permission: Permission | null
  readonly draft: PermissionDraft
}) {
  const [fault, setFault] = useState<string | null>(null)
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    try {
      if (permission) await deskApi.changePermission(permission.id, draft)
      else await deskApi.addPermission(draft)
      await refreshSurvey()
      openPermission.set(null)
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <div className={classes.fields}>
      <form className={classes.fields} onSubmit={(event) => void save(event)} noValidate>
        <Fields draft={draft} change={changePermissionDraft} />
        {fault ? <Notice tone="fault">{fault}</Notice> : null}
        <div className={classes.buttons}>
          <Button type="submit" disabled={draft.name.trim() === ''}>
            Save the permission
          </Button>
          <Button variant="default" onClick={() => openPermission.set(null)}>
            Cancel
          </Button>
        </div>
      </form>
      {permission ? <PermissionBoundary permission={permission} /> : null}
      {permission ? <Agreement permission={permission} /> : null}
      {permission ? <GroundNotes permission={permission} /> : null}
    </div>
  )
}
