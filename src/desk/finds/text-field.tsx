import { useEffect, useId, useState } from 'react'
import type { RecordPatch } from '#contract'
import { type FindRecord, findFields } from '#core/finds'
import { type EditableField, fieldText, patchFromText } from './field-text.ts'
import classes from './record.module.css'

interface TextFieldProps {
  readonly field: EditableField
  readonly record: FindRecord
  readonly label?: string
  readonly hint?: string
  readonly many?: boolean
  readonly onChange: (patch: RecordPatch) => void
}

/** One field of a record as text. Taken on Enter or on leaving; what cannot be taken is said beside it and nothing is lost. */
export function TextField({ field, record, label, hint, many = false, onChange }: TextFieldProps) {
  const id = useId()
  const value = fieldText(record, field)
  const [text, setText] = useState(value)
  const [fault, setFault] = useState<string | null>(null)
  const [told, setTold] = useState<string | null>(null)
  useEffect(() => {
    setText(value)
    setFault(null)
  }, [value])
  const settle = (): void => {
    const answer = patchFromText(field, text, record)
    setFault('refused' in answer ? answer.refused : null)
    if ('refused' in answer) return
    if (Object.keys(answer.patch).length === 0) return
    setTold(answer.told)
    onChange(answer.patch)
  }
  const shared = {
    id,
    className: classes.input,
    value: text,
    autoComplete: 'off',
    'aria-invalid': fault !== null,
    'aria-describedby': `${id}-said`,
    onBlur: settle,
  }
  return (
    <div className={classes.field} data-wide={many || undefined}>
      <label htmlFor={id}>{label ?? findFields[field].label}</label>
      {many ? (
        <textarea {...shared} rows={3} onChange={(event) => setText(event.currentTarget.value)} />
      ) : (
        <input
          {...shared}
          onChange={(event) => setText(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === 'Enter') settle()
          }}
        />
      )}
      <p
        id={`${id}-said`}
        className={fault ? classes.wrong : classes.hint}
        role={fault ? 'alert' : undefined}
      >
        {fault ?? told ?? hint ?? ''}
      </p>
    </div>
  )
}

interface ChoiceFieldProps {
  readonly field: 'certainty' | 'completeness'
  readonly record: FindRecord
  readonly onChange: (patch: RecordPatch) => void
}

export function ChoiceField({ field, record, onChange }: ChoiceFieldProps) {
  const id = useId()
  const { label, shape } = findFields[field]
  return (
    <div className={classes.field}>
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        className={classes.input}
        value={record[field] ?? ''}
        onChange={(event) => {
          const { value } = event.currentTarget
          onChange({ [field]: value === '' ? null : value } as RecordPatch)
        }}
      >
        <option value="">not said</option>
        {shape.of.map((choice) => (
          <option key={choice} value={choice}>
            {choice}
          </option>
        ))}
      </select>
    </div>
  )
}

/** When a break or scar was made: any of three. */
export function DamageField({ record, onChange }: Omit<ChoiceFieldProps, 'field'>) {
  return (
    <fieldset className={classes.damage}>
      <legend>Damage</legend>
      {findFields.damage.shape.of.map((kind) => (
        <label key={kind}>
          <input
            type="checkbox"
            checked={record.damage.includes(kind)}
            onChange={(event) => {
              const on = event.currentTarget.checked
              onChange({
                damage: findFields.damage.shape.of.filter((one) =>
                  one === kind ? on : record.damage.includes(one),
                ),
              })
            }}
          />
          {kind}
        </label>
      ))}
    </fieldset>
  )
}
