import { TextInput } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { Visit, VisitEdit } from '#contract'
import { NumberRow } from '#ui'
import classes from './visits-panel.module.css'
import { changeVisit } from './visits-state.ts'

interface TextFieldProps {
  readonly label: string
  readonly value: string | null
  readonly onChange: (value: string | null) => void
}

/** Kept on Enter or on leaving the field, when it differs. */
function TextField({ label, value, onChange }: TextFieldProps) {
  const [text, setText] = useState(value ?? '')
  useEffect(() => setText(value ?? ''), [value])
  const settle = (): void => {
    const next = text.trim() === '' ? null : text.trim()
    if (next !== value) onChange(next)
  }
  return (
    <TextInput
      label={label}
      value={text}
      maxLength={200}
      autoComplete="off"
      onChange={(event) => setText(event.currentTarget.value)}
      onBlur={settle}
      onKeyDown={(event) => {
        if (event.key === 'Enter') settle()
      }}
    />
  )
}

const above = (most: number, unit: string) => (value: number) =>
  value > 0 && value <= most ? null : `Give a value above 0 up to ${most} ${unit}.`

/** Who walked, with what, in what weather. Empty fields: the survey's setting or the default stands in. */
export function VisitForm({ visit }: { readonly visit: Visit }) {
  const change = (edit: VisitEdit): void => void changeVisit(visit.id, edit)
  return (
    <div className={classes.main}>
      <TextField label="Person" value={visit.person} onChange={(person) => change({ person })} />
      <TextField label="Weather" value={visit.weather} onChange={(weather) => change({ weather })} />
      <TextField label="Ground" value={visit.ground} onChange={(ground) => change({ ground })} />
      <div>
        <NumberRow
          label="Swath width"
          unit="m"
          value={visit.swathM}
          mayBeEmpty
          placeholder="survey"
          refuse={above(20, 'm')}
          onChange={(swathM) => change({ swathM })}
        />
        <NumberRow
          label="Coil"
          hint="Ground it senses along the walk"
          unit="m"
          value={visit.coilM}
          mayBeEmpty
          refuse={above(5, 'm')}
          onChange={(coilM) => change({ coilM })}
        />
        <NumberRow
          label="Sweeps"
          hint="One crossing, left to right or back"
          unit="/s"
          value={visit.rateHz}
          mayBeEmpty
          refuse={above(10, 'a second')}
          onChange={(rateHz) => change({ rateHz })}
        />
        <NumberRow
          label="Position error"
          hint="Where the receiver tells nothing better"
          unit="m"
          value={visit.errorM}
          mayBeEmpty
          placeholder="2"
          refuse={(value) => (value >= 0 && value <= 100 ? null : 'Give a value from 0 up to 100 m.')}
          onChange={(errorM) => change({ errorM })}
        />
        <NumberRow
          label="Instrument"
          hint="Its own chance of telling of what it passes over"
          unit="%"
          value={visit.ownChance === null ? null : Math.round(visit.ownChance * 1000) / 10}
          mayBeEmpty
          placeholder="100"
          refuse={above(100, '%')}
          onChange={(percent) => change({ ownChance: percent === null ? null : percent / 100 })}
        />
        <NumberRow
          label="Clock offset"
          hint="Added to the times of its tracks"
          unit="s"
          value={visit.clockOffsetS}
          refuse={(value) => (Math.abs(value) <= 86_400 ? null : 'Give no more than a day, 86,400 s.')}
          onChange={(clockOffsetS) => change({ clockOffsetS: clockOffsetS ?? 0 })}
        />
      </div>
    </div>
  )
}
