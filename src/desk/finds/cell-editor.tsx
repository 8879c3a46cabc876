import { useEffect, useRef } from 'react'
import classes from './finds-table.module.css'

interface CellEditorProps {
  readonly label: string
  readonly text: string
  /** Called once: with the text on Enter or on leaving, with null on Escape. */
  readonly onEnd: (text: string | null) => void
}

/** A cell of the table while it is being changed. */
export function CellEditor({ label, text, onEnd }: CellEditorProps) {
  const input = useRef<HTMLInputElement>(null)
  const over = useRef(false)
  useEffect(() => {
    input.current?.focus()
    input.current?.setSelectionRange(text.length, text.length)
  }, [text])
  const end = (value: string | null): void => {
    if (over.current) return
    over.current = true
    onEnd(value)
  }
  return (
    <input
      ref={input}
      className={classes.editor}
      aria-label={label}
      defaultValue={text}
      onClick={(event) => event.stopPropagation()}
      onBlur={(event) => end(event.currentTarget.value)}
      onKeyDown={(event) => {
        event.stopPropagation()
        if (event.key === 'Enter') end(event.currentTarget.value)
        else if (event.key === 'Escape') end(null)
        else return
        event.preventDefault()
      }}
    />
  )
}
