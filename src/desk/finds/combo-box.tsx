import { type KeyboardEvent, useId, useState } from 'react'
import classes from './record.module.css'

export interface Choice {
  readonly key: string
  readonly name: string
  /** A word beside it: the list it is from, or another name it was found by. */
  readonly aside?: string
}

interface ComboBoxProps {
  readonly id: string
  readonly value: string
  readonly onType: (text: string) => void
  readonly choices: readonly Choice[]
  readonly onPick: (choice: Choice) => void
  /** Enter without a choice, or leaving the field: what was typed stands as it is. */
  readonly onSettle: (text: string) => void
  readonly placeholder?: string | undefined
  readonly describedBy?: string | undefined
}

/** A text field that offers words while one types; anything may be typed. Arrows walk the offers, Enter takes one, Escape puts them away. */
export function ComboBox(props: ComboBoxProps) {
  const { id, value, onType, choices, onPick, onSettle, placeholder, describedBy } = props
  const listId = useId()
  const [open, setOpen] = useState(false)
  const [at, setAt] = useState(-1)
  const shown = open && choices.length > 0
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    const { key } = event
    if (key === 'ArrowDown' || key === 'ArrowUp') {
      setOpen(true)
      const step = key === 'ArrowDown' ? 1 : -1
      setAt((now) => Math.max(-1, Math.min(choices.length - 1, now + step)))
    } else if (key === 'Enter') {
      const choice = shown ? choices[at] : undefined
      if (choice) onPick(choice)
      else onSettle(value)
      setOpen(false)
      setAt(-1)
      // A form is sent by Enter only when no word was being chosen.
      if (!choice) return
    } else if (key === 'Escape' && shown) setOpen(false)
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <div className={classes.combo}>
      <input
        id={id}
        className={classes.input}
        role="combobox"
        aria-expanded={shown}
        aria-controls={listId}
        aria-autocomplete="list"
        aria-activedescendant={shown && at >= 0 ? `${listId}-${at}` : undefined}
        aria-describedby={describedBy}
        autoComplete="off"
        value={value}
        placeholder={placeholder}
        onFocus={() => setOpen(true)}
        onChange={(event) => {
          onType(event.currentTarget.value)
          setOpen(true)
          setAt(-1)
        }}
        onKeyDown={onKeyDown}
        onBlur={(event) => {
          setOpen(false)
          onSettle(event.currentTarget.value)
        }}
      />
      <div id={listId} className={classes.offers} role="listbox" aria-label="Words" hidden={!shown}>
        {choices.map((choice, i) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the field takes the keys for its list.
          <div
            key={choice.key}
            id={`${listId}-${i}`}
            role="option"
            aria-selected={i === at}
            tabIndex={-1}
            className={classes.offer}
            // Else the field would be left, and the list put away, before the button is let go.
            onMouseDown={(event) => event.preventDefault()}
            onClick={() => {
              onPick(choice)
              setOpen(false)
            }}
          >
            <span>{choice.name}</span>
            {choice.aside ? <span className={classes.soft}>{choice.aside}</span> : null}
          </div>
        ))}
      </div>
    </div>
  )
}
