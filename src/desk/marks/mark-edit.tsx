import { Textarea } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { Mark, MarkKind } from '#contract'
import { markDiameterM } from '#contract'
import { NumberRow, Section } from '#ui'
import { SelectRow } from '../layers/select-row.tsx'
import { kindNames } from './mark-words.ts'
import classes from './marks.module.css'
import { changeMark } from './marks-state.ts'
import { outlineText, placesFrom } from './places-text.ts'

const round = (value: number): number => Math.round(value * 100) / 100
const any = (): string | null => null

function RoundFields({ mark }: { readonly mark: Mark }) {
  const { least, most } = markDiameterM
  return (
    <>
      <NumberRow
        label="Diameter"
        unit="m"
        value={mark.diameterM === null ? null : round(mark.diameterM)}
        refuse={(value) =>
          value >= least && value <= most ? null : `Give a value from ${least} to ${most} m.`
        }
        onChange={(diameterM) => diameterM !== null && void changeMark(mark, { diameterM })}
      />
      <NumberRow
        label="Easting of its middle"
        unit="m"
        value={round(mark.easting)}
        refuse={any}
        onChange={(easting) => easting !== null && void changeMark(mark, { easting })}
      />
      <NumberRow
        label="Northing of its middle"
        unit="m"
        value={round(mark.northing)}
        refuse={any}
        onChange={(northing) => northing !== null && void changeMark(mark, { northing })}
      />
    </>
  )
}

function OutlineField({ mark }: { readonly mark: Mark }) {
  const kept = outlineText(mark.outline, mark.kind === 'enclosure')
  const [text, setText] = useState(kept)
  const [fault, setFault] = useState<string | null>(null)
  // After a drag on the map, or Undo, the field says what the survey holds.
  useEffect(() => {
    setText(kept)
    setFault(null)
  }, [kept])
  const settle = (): void => {
    if (text === kept) return
    const read = placesFrom(text, mark.kind === 'enclosure' ? 3 : 2)
    setFault('fault' in read ? read.fault : null)
    if ('places' in read) void changeMark(mark, { outline: read.places })
  }
  return (
    <Textarea
      label="Easting and northing, one place a line"
      classNames={{ input: classes.places ?? '' }}
      rows={5}
      value={text}
      error={fault}
      onChange={(event) => setText(event.currentTarget.value)}
      onBlur={settle}
    />
  )
}

/** Changes a mark by numbers; the map does the same by dragging. */
export function MarkEdit({ mark }: { readonly mark: Mark }) {
  const [note, setNote] = useState(mark.note ?? '')
  useEffect(() => setNote(mark.note ?? ''), [mark.note])
  const isRound = mark.diameterM !== null
  const kinds: readonly MarkKind[] = isRound ? ['ring', 'pit'] : [mark.kind]
  const keep = (): void => {
    const next = note.trim() === '' ? null : note.trim()
    if (next !== mark.note) void changeMark(mark, { note: next })
  }
  return (
    <Section title="Change it">
      <div className={classes.form}>
        <Textarea
          label="Note"
          rows={2}
          maxLength={2000}
          value={note}
          onChange={(event) => setNote(event.currentTarget.value)}
          onBlur={keep}
        />
        {isRound ? (
          <SelectRow
            label="Kind"
            value={mark.kind}
            choices={kinds.map((value) => ({ value, text: kindNames[value] }))}
            onChange={(kind) => void changeMark(mark, { kind })}
          />
        ) : null}
        {isRound ? <RoundFields mark={mark} /> : <OutlineField mark={mark} />}
        <p className={classes.hint}>
          {isRound
            ? 'Or drag it on the map: the dot at its middle moves it, a dot on its rim (shown when it is large enough on the screen) resizes it.'
            : 'Or drag a corner on the map; dragging a side makes a new one.'}
        </p>
      </div>
    </Section>
  )
}
