import { ActionIcon } from '@mantine/core'
import { IconMapSearch, IconX } from '@tabler/icons-react'
import type { SurveyView } from '#contract'
import { PlaceForm } from '../places/place-form.tsx'
import { createStore, useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import classes from './place-search.module.css'

const boxId = 'place'

/** On a narrow page the box lies over the map, while it is asked for. */
const boxOpen = createStore(false)

/** Puts the cursor into the box, wherever it is. */
export function focusPlaceSearch(): void {
  const box = document.getElementById(boxId)
  if (box) box.focus()
  // On a narrow page the box takes the focus as it appears.
  else boxOpen.set(true)
}

/** The box that takes a place in any notation: in the bar, or on a narrow page behind a button of it. */
export function PlaceSearch({ survey }: { readonly survey: SurveyView | null }) {
  const wide = useWide()
  const open = useStore(boxOpen)
  if (wide)
    return (
      <div className={classes.inBar}>
        <PlaceForm key={survey?.file} id={boxId} floating />
      </div>
    )
  const close = (): void => boxOpen.set(false)
  return (
    <>
      <ActionIcon
        aria-label="Go to a place"
        title="Go to a place"
        aria-expanded={open}
        onClick={() => boxOpen.set(!open)}
        size={40}
      >
        {open ? <IconX size={20} aria-hidden="true" /> : <IconMapSearch size={20} aria-hidden="true" />}
      </ActionIcon>
      {open ? (
        <div className={classes.below}>
          <PlaceForm key={survey?.file} id={boxId} autoFocus onFound={close} onLeave={close} />
        </div>
      ) : null}
    </>
  )
}
