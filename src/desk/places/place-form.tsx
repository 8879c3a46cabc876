import { ActionIcon, TextInput } from '@mantine/core'
import { IconArrowRight, IconMapSearch } from '@tabler/icons-react'
import { type FormEvent, type KeyboardEvent, useId, useState } from 'react'
import { sentenceOf } from '../api/request.ts'
import classes from './place-form.module.css'
import { placeName } from './place-words.ts'
import { dropPlace, goToPlace, shownPlace } from './shown-place.ts'

interface PlaceFormProps {
  readonly id: string
  /** True where what is said of the text lies over the map below the box and takes no room of its own. */
  readonly floating?: boolean
  readonly autoFocus?: boolean
  readonly onFound?: () => void
  /** Escape in a box that is empty. */
  readonly onLeave?: () => void
}

/** Longest text that the server takes for one place. */
const longest = 200

/** A box that takes a place in any notation and goes there. */
export function PlaceForm({ id, floating = false, autoFocus = false, onFound, onLeave }: PlaceFormProps) {
  const [text, setText] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const [found, setFound] = useState('')
  const hint = useId()
  const go = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    if (text.trim() === '') return
    setFault(null)
    setFound('')
    try {
      const place = await goToPlace(text)
      if (!place) return
      setFound(
        `${place.easting === null ? 'Outside the survey’s grid' : 'The map shows'}: ${placeName(place)}.`,
      )
      onFound?.()
    } catch (error) {
      dropPlace()
      setFault(sentenceOf(error))
    }
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape') return
    if (text === '' && shownPlace.get() === null) {
      if (!onLeave) return
      onLeave()
    }
    event.preventDefault()
    setText('')
    setFault(null)
    setFound('')
    dropPlace()
  }
  return (
    <search className={classes.box}>
      <form onSubmit={(event) => void go(event)} noValidate>
        <TextInput
          id={id}
          aria-label="Go to a place"
          aria-describedby={hint}
          aria-invalid={fault !== null}
          placeholder="Go to a place"
          autoComplete="off"
          spellCheck={false}
          autoFocus={autoFocus}
          maxLength={longest}
          leftSection={<IconMapSearch size={18} aria-hidden="true" />}
          rightSection={
            <ActionIcon type="submit" aria-label="Go there" title="Go there" size={28}>
              <IconArrowRight size={18} aria-hidden="true" />
            </ActionIcon>
          }
          value={text}
          error={fault !== null}
          onChange={(event) => {
            setText(event.currentTarget.value)
            setFault(null)
          }}
          onKeyDown={onKeyDown}
        />
        <div className={classes.under} data-floating={floating || undefined}>
          <div aria-live="polite">
            {fault === null ? null : (
              <p className={classes.fault} data-testid="place-fault">
                {fault}
              </p>
            )}
            <span className="only-read">{found}</span>
          </div>
          <p id={hint} className={classes.hint} hidden={fault !== null || text !== ''}>
            A grid reference, latitude and longitude, easting and northing, UTM or MGRS
          </p>
        </div>
      </form>
    </search>
  )
}
