import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import { Notice, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { sentenceOf } from '../api/request.ts'
import { plan } from '../map/map-state.ts'
import { useStore } from '../state/store.ts'
import classes from './lanes.module.css'
import { wantedClick } from './lanes-state.ts'
import { addTarget, nextTargetName } from './plan-click.ts'

/** Adds a target by a grid reference or coordinates as they are written, or by a click. */
export function AddTarget() {
  const [text, setText] = useState('')
  const [name, setName] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const waiting = useStore(wantedClick) === 'target'
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    try {
      const place = await deskApi.place(text)
      if (place.easting === null || place.northing === null)
        return setFault('The survey’s grid does not reach that place.')
      await addTarget(name.trim() === '' ? nextTargetName() : name.trim(), place.easting, place.northing)
      plan.get()?.lookAt(place.easting, place.northing)
      setText('')
      setName('')
      setFault(null)
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <Section title="Add a target">
      <form className={classes.form} onSubmit={(event) => void save(event)}>
        <TextInput
          label="Grid reference or coordinates"
          placeholder="TF 58412 47063"
          value={text}
          maxLength={200}
          onChange={(event) => setText(event.currentTarget.value)}
        />
        <TextInput
          label="Name of the target"
          placeholder={nextTargetName()}
          value={name}
          maxLength={200}
          onChange={(event) => setName(event.currentTarget.value)}
        />
        {fault ? <Notice tone="fault">{fault}</Notice> : null}
        <div className={classes.buttons}>
          <Button type="submit" variant="default" disabled={text.trim() === ''}>
            Add the target
          </Button>
          <Button
            variant={waiting ? 'filled' : 'default'}
            aria-pressed={waiting}
            onClick={() => wantedClick.set(waiting ? null : 'target')}
          >
            {waiting ? 'Click its place on the map' : 'By a click'}
          </Button>
        </div>
      </form>
    </Section>
  )
}
