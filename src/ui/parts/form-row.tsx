import { type ReactNode, useEffect, useId, useState } from 'react'
import classes from './form-row.module.css'
import { numberFrom } from './number-text.ts'

interface NumberRowProps {
  readonly label: string
  readonly hint?: string
  readonly unit?: string
  /** The value now held; null shows an empty field. */
  readonly value: number | null
  /** True where an empty field is an answer too. */
  readonly mayBeEmpty?: boolean
  readonly placeholder?: string
  /** One sentence if this value cannot be taken, else null. */
  readonly refuse: (value: number) => string | null
  /** Called on Enter or on leaving the field, only when the value differs and is not refused. */
  readonly onChange: (value: number | null) => void
}

/** A label and a number field with its unit. Keeps what is typed until it is a number that can be taken. */
export function NumberRow(props: NumberRowProps) {
  const { label, hint, unit, value, mayBeEmpty = false, placeholder, refuse, onChange } = props
  const id = useId()
  const [text, setText] = useState(value === null ? '' : String(value))
  const [error, setError] = useState<string | null>(null)
  useEffect(() => {
    setText(value === null ? '' : String(value))
    setError(null)
  }, [value])

  const settle = (): void => {
    const typed = numberFrom(text)
    const empty = text.trim() === ''
    const wrong = empty && mayBeEmpty ? null : typed === null ? 'Write a number, such as 1.5.' : refuse(typed)
    setError(wrong)
    if (wrong !== null) return
    setText(typed === null ? '' : String(typed))
    if (typed !== value) onChange(typed)
  }

  return (
    <div className={classes.row}>
      <label className={classes.label} htmlFor={id}>
        {label}
        {hint ? <span className={classes.hint}>{hint}</span> : null}
      </label>
      <span className={classes.field} data-wrong={error ? true : undefined}>
        <input
          id={id}
          className={classes.input}
          inputMode="decimal"
          autoComplete="off"
          value={text}
          placeholder={placeholder}
          aria-invalid={error !== null}
          aria-describedby={error ? `${id}-error` : undefined}
          onChange={(event) => setText(event.currentTarget.value)}
          onBlur={settle}
          onKeyDown={(event) => {
            if (event.key === 'Enter') settle()
          }}
        />
        {unit ? (
          <span className={classes.unit} aria-hidden="true">
            {unit}
          </span>
        ) : null}
      </span>
      {error ? (
        <p className={classes.error} id={`${id}-error`} role="alert">
          {error}
        </p>
      ) : null}
    </div>
  )
}

interface FormRowProps {
  readonly label: string
  readonly hint?: string
  /** The control; it must carry `id`. */
  readonly control: (id: string) => ReactNode
}

/** A label beside any other control. */
export function FormRow({ label, hint, control }: FormRowProps) {
  const id = useId()
  return (
    <div className={classes.row}>
      <label className={classes.label} htmlFor={id}>
        {label}
        {hint ? <span className={classes.hint}>{hint}</span> : null}
      </label>
      {control(id)}
    </div>
  )
}
