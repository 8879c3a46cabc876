import { type ReactNode, useId } from 'react'
import classes from './layers.module.css'

interface SliderRowProps {
  readonly label: string
  readonly value: number
  readonly least: number
  readonly most: number
  readonly step: number
  /** The value in words, also for screen readers. */
  readonly text: string
  readonly onChange: (value: number) => void
  /** A small drawing of what the value means. */
  readonly mark?: ReactNode
}

/** A label, its value in words, and a slider below. Every step of the slider is told. */
export function SliderRow({ label, value, least, most, step, text, onChange, mark }: SliderRowProps) {
  const id = useId()
  return (
    <div className={classes.slider}>
      <label htmlFor={id}>{label}</label>
      <output className={classes.value} htmlFor={id}>
        {mark}
        {text}
      </output>
      <input
        id={id}
        type="range"
        min={least}
        max={most}
        step={step}
        value={value}
        aria-valuetext={text}
        onChange={(event) => onChange(event.currentTarget.valueAsNumber)}
      />
    </div>
  )
}
