import { useId } from 'react'
import classes from './layers.module.css'

interface SelectRowProps<Value extends string> {
  readonly label: string
  readonly value: Value
  readonly choices: readonly { readonly value: Value; readonly text: string }[]
  readonly onChange: (value: Value) => void
}

/** A label beside a list to choose from. */
export function SelectRow<Value extends string>({ label, value, choices, onChange }: SelectRowProps<Value>) {
  const id = useId()
  return (
    <div className={classes.select}>
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.currentTarget.value as Value)}>
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.text}
          </option>
        ))}
      </select>
    </div>
  )
}
