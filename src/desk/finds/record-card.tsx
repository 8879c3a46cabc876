import { ActionIcon, Button } from '@mantine/core'
import { IconArrowLeft, IconTrash } from '@tabler/icons-react'
import { type ReactNode, useEffect } from 'react'
import type { FindEditRequest, FindView, RecordPatch } from '#contract'
import { careFor } from '#core/finds'
import { Notice, Section } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { sentenceOf } from '../api/request.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { DateField } from './date-field.tsx'
import { changed, showFind, useFind, useWords, type Words } from './finds-data.ts'
import { closeFind, photographTarget } from './finds-state.ts'
import { HistoryList } from './history-list.tsx'
import { JoinedWith } from './joined-with.tsx'
import { useObjectWords } from './object-words.ts'
import { Photographs } from './photographs.tsx'
import { PlaceField } from './place-field.tsx'
import classes from './record.module.css'
import { ChoiceField, DamageField, TextField } from './text-field.tsx'
import { VisitField } from './visit-field.tsx'
import { WordField, WordsField } from './word-fields.tsx'

interface PartProps {
  readonly find: FindView
  readonly words: Words | null
  readonly onChange: (patch: RecordPatch) => void
}

function WhatPart({ find: { record }, words, onChange }: PartProps) {
  const objects = useObjectWords()
  return (
    <Part title="What it is">
      <WordField
        label="Object"
        word={record.objectType}
        vocabulary={objects.list}
        also={objects.used}
        onChange={(objectType) => onChange({ objectType })}
      />
      <WordsField
        label="Materials"
        words={record.materials}
        vocabulary={words?.materials ?? null}
        onChange={(materials) => onChange({ materials })}
      />
      <TextField field="count" record={record} onChange={onChange} />
      <ChoiceField field="completeness" record={record} onChange={onChange} />
      <TextField field="description" record={record} many onChange={onChange} />
      <TextField field="decoration" record={record} onChange={onChange} />
      <TextField
        field="parallels"
        record={record}
        hint="References, parted by semicolons"
        onChange={onChange}
      />
    </Part>
  )
}

function DatePart({ find: { record }, words, onChange }: PartProps) {
  return (
    <Part title="Date">
      <DateField record={record} words={words} onChange={onChange} />
      <WordField
        label="Period"
        word={record.period}
        vocabulary={words?.periods ?? null}
        onChange={(period) => onChange({ period })}
      />
      <ChoiceField field="certainty" record={record} onChange={onChange} />
      <TextField field="fromYear" record={record} hint="BC with a minus" onChange={onChange} />
      <TextField field="toYear" record={record} onChange={onChange} />
    </Part>
  )
}

function SizePart({ find: { record }, onChange }: PartProps) {
  const fields = ['weightG', 'lengthMm', 'widthMm', 'thicknessMm', 'diameterMm', 'dieAxisH'] as const
  return (
    <Part title="Size and weight">
      {fields.map((field) => (
        <TextField key={field} field={field} record={record} onChange={onChange} />
      ))}
    </Part>
  )
}

function StatePart({ find: { record }, words, onChange }: PartProps) {
  const care = words ? careFor(record, words.materials) : []
  return (
    <Part
      title="State and care"
      below={
        care.length > 0 ? (
          <Notice tone="warn">
            <ul className={classes.care}>
              {care.map(({ about, text }) => (
                <li key={about}>{text}</li>
              ))}
            </ul>
          </Notice>
        ) : null
      }
    >
      <TextField field="condition" record={record} onChange={onChange} />
      <TextField field="surface" record={record} onChange={onChange} />
      <TextField field="conservation" record={record} onChange={onChange} />
      <TextField field="warnings" record={record} hint="Parted by semicolons" onChange={onChange} />
      <DamageField record={record} onChange={onChange} />
    </Part>
  )
}

function FindingPart({
  find,
  onChange,
  onPlace,
}: PartProps & { readonly onPlace: (edit: FindEditRequest) => void }) {
  const { record } = find
  return (
    <Part title="Finding">
      <PlaceField find={find} onChange={(place) => onPlace({ place })} />
      <VisitField find={find} onChange={onChange} />
      <TextField field="depthCm" record={record} onChange={onChange} />
      <TextField field="finder" record={record} onChange={onChange} />
      <TextField field="lay" record={record} onChange={onChange} />
      <TextField field="signalNote" record={record} onChange={onChange} />
    </Part>
  )
}

function KeepingPart({ find: { record, givenNumber }, onChange }: PartProps) {
  return (
    <Part title="Keeping">
      <TextField
        field="number"
        record={record}
        {...(givenNumber === null ? {} : { hint: `The file called it ${givenNumber}` })}
        onChange={onChange}
      />
      <TextField field="whereNow" record={record} onChange={onChange} />
      <TextField field="notes" record={record} many onChange={onChange} />
    </Part>
  )
}

function Part(props: { readonly title: string; readonly children: ReactNode; readonly below?: ReactNode }) {
  return (
    <Section title={props.title}>
      <div className={classes.fields}>{props.children}</div>
      {props.below}
    </Section>
  )
}

function RecordHead({ find }: { readonly find: FindView }) {
  const { id, record } = find
  const remove = async (): Promise<void> => {
    if (!(await changed(() => findsApi.remove([id])))) return
    closeFind()
    tell('good', `Removed ${record.number}.`, { label: 'Undo', run: () => void undoLast() })
  }
  return (
    <div className={classes.head}>
      <ActionIcon aria-label="Back to the list" title="Back to the list" onClick={closeFind}>
        <IconArrowLeft size={20} aria-hidden="true" />
      </ActionIcon>
      <h2 className={classes.title} data-testid="record-title">
        {record.number}
        {record.objectType ? <span className={classes.soft}> {record.objectType.text}</span> : null}
      </h2>
      <Button
        variant="default"
        color="clay"
        size="compact-sm"
        leftSection={<IconTrash size={16} aria-hidden="true" />}
        onClick={() => void remove()}
      >
        Remove
      </Button>
    </div>
  )
}

/** All that is known of one find. Each field is kept as it is left; Undo takes it back. */
export function RecordCard({ id }: { readonly id: number }) {
  const { find, error } = useFind(id)
  const words = useWords()
  const number = find?.record.number
  useEffect(() => {
    if (number === undefined) return
    photographTarget.set({ id, number })
    return () => photographTarget.set(null)
  }, [id, number])
  if (error) return <Notice tone="fault">{sentenceOf(error)}</Notice>
  if (find === null) return null
  const save = (edit: FindEditRequest): void => {
    void changed(async () => showFind(await findsApi.change(id, edit)))
  }
  const parts: PartProps = { find, words, onChange: (record) => save({ record }) }
  return (
    <article className={classes.card} aria-label={`Find ${find.record.number}`} data-testid="record-card">
      <RecordHead find={find} />
      <Photographs find={find} />
      <WhatPart {...parts} />
      <DatePart {...parts} />
      <SizePart {...parts} />
      <FindingPart {...parts} onPlace={save} />
      <StatePart {...parts} />
      <KeepingPart {...parts} />
      <JoinedWith find={find} />
      <HistoryList find={find} />
    </article>
  )
}
