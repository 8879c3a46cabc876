import { Button, Textarea } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { MarkKind, NewMark } from '#contract'
import { Notice, NumberRow, Section } from '#ui'
import { sentenceOf } from '../api/request.ts'
import { mapView, plan } from '../map/map-state.ts'
import { useStore } from '../state/store.ts'
import { kindNames } from './mark-words.ts'
import classes from './marks.module.css'
import { drawMark, drawnKind, endDrawing, keepMark } from './marks-state.ts'
import { placesFrom } from './places-text.ts'

const kinds: readonly MarkKind[] = ['ring', 'pit', 'line', 'enclosure']

const howTo: Readonly<Record<MarkKind, string>> = {
  ring: 'Click its middle on the map, then its rim.',
  pit: 'Click its middle on the map, then its rim.',
  line: 'Click its places on the map, one after another. A double click, or Enter, ends it. Backspace takes the last place back.',
  enclosure:
    'Click its corners on the map, one after another. A double click, or Enter, closes it. Backspace takes the last corner back.',
}

const isRound = (kind: MarkKind): kind is 'ring' | 'pit' => kind === 'ring' || kind === 'pit'

/** The same by numbers, for those who do not draw with a pointer. */
function ByNumbers({ kind }: { readonly kind: MarkKind }) {
  const [easting, northing] = mapView.get()?.centre ?? [0, 0]
  const [middle, setMiddle] = useState({ easting: Math.round(easting!), northing: Math.round(northing!) })
  const [diameterM, setDiameter] = useState(kind === 'pit' ? 3 : 20)
  const [text, setText] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const add = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const mark = isRound(kind) ? { kind, ...middle, diameterM } : fromText(kind, text)
    if ('fault' in mark) return setFault(mark.fault)
    setFault(await keepMark(mark).then(() => null, sentenceOf))
  }
  return (
    <details>
      <summary className={classes.summary}>By numbers</summary>
      <form className={classes.form} onSubmit={(event) => void add(event)} noValidate>
        {isRound(kind) ? (
          <>
            <NumberRow
              label="Easting"
              unit="m"
              value={middle.easting}
              refuse={() => null}
              onChange={(value) => value !== null && setMiddle((now) => ({ ...now, easting: value }))}
            />
            <NumberRow
              label="Northing"
              unit="m"
              value={middle.northing}
              refuse={() => null}
              onChange={(value) => value !== null && setMiddle((now) => ({ ...now, northing: value }))}
            />
            <NumberRow
              label="Diameter"
              unit="m"
              value={diameterM}
              refuse={(value) => (value >= 0.5 && value <= 500 ? null : 'Give a value from 0.5 to 500 m.')}
              onChange={(value) => value !== null && setDiameter(value)}
            />
          </>
        ) : (
          <Textarea
            label="Easting and northing, one place a line"
            rows={4}
            value={text}
            onChange={(event) => setText(event.currentTarget.value)}
          />
        )}
        {fault ? <Notice tone="fault">{fault}</Notice> : null}
        <Button type="submit" variant="default">
          Add the {kindNames[kind].toLowerCase()}
        </Button>
      </form>
    </details>
  )
}

function fromText(kind: 'line' | 'enclosure', text: string): NewMark | { readonly fault: string } {
  const read = placesFrom(text, kind === 'line' ? 2 : 3)
  return 'fault' in read ? read : { kind, outline: read.places }
}

/** Draws a mark that no search found. */
export function DrawSection({ gridless }: { readonly gridless: boolean }) {
  const drawing = useStore(drawnKind)
  if (gridless) return null
  return (
    <Section title="Draw a mark by hand">
      <div className={classes.form}>
        <div className={classes.kinds}>
          {kinds.map((kind) => (
            <Button
              key={kind}
              variant={drawing === kind ? 'filled' : 'default'}
              size="compact-md"
              aria-pressed={drawing === kind}
              onClick={() => (drawing === kind ? endDrawing() : drawMark(kind))}
            >
              {kindNames[kind]}
            </Button>
          ))}
        </div>
        {drawing ? (
          <>
            <Notice
              tone="plain"
              action={
                isRound(drawing) ? undefined : { label: 'End it', run: () => plan.get()?.marks.finish() }
              }
            >
              {howTo[drawing]}
            </Notice>
            <ByNumbers key={drawing} kind={drawing} />
            <Button variant="default" size="compact-sm" onClick={endDrawing}>
              Stop drawing
            </Button>
          </>
        ) : null}
      </div>
    </Section>
  )
}
