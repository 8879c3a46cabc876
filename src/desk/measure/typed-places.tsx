import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { PlaceView } from '#contract'
import { Notice } from '#ui'
import { deskApi, type Position } from '../api/desk-api.ts'
import { sentenceOf } from '../api/request.ts'
import { boundsOfPositions, goTo } from '../map/map-state.ts'
import classes from './measure-card.module.css'
import { startMeasure } from './measure-state.ts'
import { fieldName, squaresText } from './measure-words.ts'

/** Each field's place in the survey's grid. Faults: RequestError; Error where the grid does not reach one. */
async function placesOf(texts: readonly string[]): Promise<{ places: PlaceView[]; points: Position[] }> {
  const places: PlaceView[] = []
  const points: Position[] = []
  for (const text of texts) {
    const place = await deskApi.place(text)
    if (place.easting === null || place.northing === null)
      throw new Error(`“${text.trim()}” lies outside the survey’s grid; nothing can be measured there.`)
    places.push(place)
    points.push([place.easting, place.northing])
  }
  return { places, points }
}

/** To measure without a pointer, or from places as they stand in a record: two or more, each in any notation. */
export function TypedPlaces() {
  const [texts, setTexts] = useState<readonly string[]>(['', ''])
  const [fault, setFault] = useState<string | null>(null)
  const [remark, setRemark] = useState<string | null>(null)
  const given = texts.filter((text) => text.trim() !== '')
  const run = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    setFault(null)
    setRemark(null)
    if (given.length < 2) {
      setFault('Write two places, such as TF 584 475 and TF 590 480.')
      return
    }
    try {
      const { places, points } = await placesOf(given)
      startMeasure(points)
      goTo(boundsOfPositions(points))
      setRemark(squaresText(places))
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <details className={classes.typed}>
      <summary>Places as text</summary>
      <form className={classes.fields} onSubmit={(event) => void run(event)} noValidate>
        {texts.map((text, i) => (
          <TextInput
            // biome-ignore lint/suspicious/noArrayIndexKey: the fields are known by their place and never reordered.
            key={i}
            label={fieldName(i)}
            value={text}
            autoComplete="off"
            spellCheck={false}
            maxLength={200}
            onChange={(event) => {
              const { value } = event.currentTarget
              setTexts((now) => now.map((old, k) => (k === i ? value : old)))
            }}
          />
        ))}
        <div aria-live="polite" className={classes.said}>
          {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
          {remark === null ? null : <Notice tone="plain">{remark}</Notice>}
        </div>
        <div className={classes.buttons}>
          <Button type="submit" size="compact-sm">
            Measure between them
          </Button>
          <Button variant="default" size="compact-sm" onClick={() => setTexts((now) => [...now, ''])}>
            One more place
          </Button>
        </div>
      </form>
    </details>
  )
}
