import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useEffect, useRef, useState } from 'react'
import type { Layer, Placing } from '#contract'
import { measuredText, Notice } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { knownList, refreshSurvey, useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { tell } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import { goToLayer } from './layer-acts.ts'
import { showLayer } from './layer-looks.ts'
import { SelectRow } from './select-row.tsx'
import {
  clickedPoint,
  type DraftPoint,
  fitDraft,
  leastPoints,
  type Method,
  movedPoint,
  pointInHand,
  pointsOf,
  type Side,
} from './tie-draft.ts'
import { TieGround, TiePicture } from './tie-maps.tsx'
import classes from './tie-page.module.css'
import { placedLayer } from './tie-state.ts'
import { TieTable } from './tie-table.tsx'

const methods: readonly { readonly value: Method; readonly text: string }[] = [
  { value: 'affine', text: 'Affine: from above, 3 points' },
  { value: 'projective', text: 'Projective: aslant, 4 points' },
]

async function save(layer: Layer, placing: Placing): Promise<void> {
  await deskApi.placeLayer(layer.id, placing)
  await refreshSurvey()
  showLayer(knownList('layers'), layer.id, true)
  placedLayer.set(null)
  const placed = knownList('layers').find(({ id }) => id === layer.id)
  if (placed) goToLayer(placed)
  tell('good', `${layer.name} now lies on the map.`, { label: 'Undo', run: () => void undoLast() })
}

/** A place on the ground in any notation, for the point that lacks one. */
function GroundText({
  number,
  onPlace,
}: {
  readonly number: number
  readonly onPlace: (place: readonly [number, number]) => void
}) {
  const [text, setText] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const take = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    if (text.trim() === '') return
    try {
      const { easting, northing } = await deskApi.place(text)
      if (easting === null || northing === null)
        throw new Error('The survey’s grid does not reach that place.')
      onPlace([easting, northing])
      setText('')
      setFault(null)
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <form className={classes.text} onSubmit={(event) => void take(event)}>
      <TextInput
        label={`Point ${number} on the ground, as text`}
        placeholder="Grid reference, or any other notation"
        autoComplete="off"
        value={text}
        error={fault}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <Button type="submit" variant="default">
        Set
      </Button>
    </form>
  )
}

/** The points being made, and what is done with them. */
function useDraft(layer: Layer) {
  const [points, setPoints] = useState<readonly DraftPoint[]>(() => pointsOf(layer))
  const [chosen, setChosen] = useState<number | null>(null)
  const [changed, setChanged] = useState(false)
  const place = (side: Side, at: readonly [number, number]): void => {
    const next = clickedPoint(points, chosen, side, at)
    setPoints(next.points)
    setChosen(next.id)
    setChanged(true)
  }
  const move = (id: number, side: Side, at: readonly [number, number]): void => {
    setPoints((now) => movedPoint(now, id, side, at))
    setChosen(id)
    setChanged(true)
  }
  const remove = (id: number): void => {
    setPoints((now) => now.filter((point) => point.id !== id))
    setChosen(null)
    setChanged(true)
  }
  return { points, chosen, changed, setChosen, place, move, remove }
}

function nextStep(points: readonly DraftPoint[], chosen: number | null): string {
  const numberOf = (point: DraftPoint): number => points.indexOf(point) + 1
  const picture = pointInHand(points, chosen, 'picture')
  const ground = pointInHand(points, chosen, 'ground')
  if (ground) return `Point ${numberOf(ground)} is set in the picture. Now click the same spot on the ground.`
  if (picture)
    return `Point ${numberOf(picture)} is set on the ground. Now click the same spot in the picture.`
  return 'Click a spot in the picture, then the same spot on the ground: a gate, a tree, a corner of a wall. Far apart is better.'
}

function TieForm({ layer, close }: { readonly layer: Layer; readonly close: () => void }) {
  const { points, chosen, setChosen, place, move, remove } = useDraft(layer)
  const [method, setMethod] = useState<Method>('affine')
  const [fault, setFault] = useState<string | null>(null)
  const [saving, setSaving] = useState(false)
  const fit = fitDraft(points, method)
  const keep = async (): Promise<void> => {
    if (!('placing' in fit)) return
    setSaving(true)
    try {
      await save(layer, fit.placing)
    } catch (error) {
      setFault(sentenceOf(error))
      setSaving(false)
    }
  }
  const maps = { layer, points, chosen, onPlace: place, onMove: move, onChoose: setChosen }
  const textFor = pointInHand(points, chosen, 'ground')
  const textNumber = textFor ? points.indexOf(textFor) + 1 : points.length + 1
  return (
    <div className={classes.page}>
      <header className={classes.head}>
        <h2 className={classes.title} id="tie-title">
          Place {layer.name}
        </h2>
        <Button variant="default" onClick={close} data-cancel>
          Cancel
        </Button>
        <Button disabled={!('placing' in fit)} loading={saving} onClick={() => void keep()}>
          Save the placing
        </Button>
      </header>
      <TiePicture {...maps} />
      <TieGround {...maps} />
      <div className={classes.foot}>
        <p className={classes.step} role="status">
          {nextStep(points, chosen)}
        </p>
        {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
        <div className={classes.columns}>
          {points.length > 0 ? (
            // biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls must be reachable by keyboard.
            <section className={classes.scroll} tabIndex={0} aria-label="Tie points">
              <TieTable {...{ points, chosen, fit }} onChoose={setChosen} onMove={move} onRemove={remove} />
            </section>
          ) : null}
          <div className={classes.aside}>
            <SelectRow<Method> label="Placing" value={method} choices={methods} onChange={setMethod} />
            <p className={classes.sum} data-testid="tie-sum">
              {'fault' in fit
                ? fit.fault
                : fit.rmsM === null
                  ? `With ${leastPoints[method]} points any placing fits: one more shows how well.`
                  : `Root mean square ${measuredText(fit.rmsM)} for one coordinate.`}
            </p>
            <GroundText number={textNumber} onPlace={(at) => place('ground', at)} />
          </div>
        </div>
      </div>
    </div>
  )
}

/** The picture beside the ground, over the whole page, until the placing is saved or left. */
export function TiePage() {
  const id = useStore(placedLayer)
  const layer = useList('layers').find((one) => one.id === id)
  const box = useRef<HTMLDialogElement>(null)
  const known = layer !== undefined
  useEffect(() => {
    if (!known) return
    const dialog = box.current
    dialog?.showModal()
    return () => dialog?.close()
  }, [known])
  if (!layer) return null
  const close = (): void => placedLayer.set(null)
  return (
    <dialog
      ref={box}
      className={classes.dialog}
      aria-labelledby="tie-title"
      // Points take time to make: Escape leads to Cancel, and does not throw them away.
      onCancel={(event) => {
        event.preventDefault()
        box.current?.querySelector<HTMLElement>('[data-cancel]')?.focus()
      }}
    >
      <TieForm key={layer.id} layer={layer} close={close} />
    </dialog>
  )
}
