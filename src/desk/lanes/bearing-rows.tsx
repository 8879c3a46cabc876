import { useEffect } from 'react'
import { type BearingSource, bearingSources } from '#core/lanes'
import { Notice, NumberRow } from '#ui'
import { useList } from '../api/queries.ts'
import { nameWithYear } from '../layers/layer-words.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { useStore } from '../state/store.ts'
import {
  bearingLine,
  bearingReading,
  chooseBearing,
  layersFor,
  readBearing,
  takeFound,
  typeBearing,
} from './bearing-state.ts'
import classes from './lanes.module.css'
import { changeForm, type LaneForm, openPlan, wantedClick } from './lanes-state.ts'

const names: Readonly<Record<BearingSource, string>> = {
  turns: 'The fewest turns',
  given: 'A bearing',
  line: 'A line drawn on the map',
  plough: 'The plough lines of a layer',
  contour: 'The contour of a terrain model',
}

/** What is being read from a layer, and what came of it. */
function Reading() {
  const { working, found, fault } = useStore(bearingReading)
  if (working) return <p className={classes.hint}>Reading the layer …</p>
  if (fault) return <Notice tone="fault">{fault}</Notice>
  if (!found) return null
  const all = found.clear || found.bearing === null
  const action = all
    ? undefined
    : { label: `Use ${found.bearing?.toFixed(0)}° all the same`, run: () => takeFound(found) }
  return (
    <Notice tone={found.clear ? 'good' : 'warn'} action={action}>
      {found.text}
    </Notice>
  )
}

function FromLayer({ form, by }: { readonly form: LaneForm; readonly by: 'plough' | 'contour' }) {
  const layers = layersFor(by, useList('layers'))
  const layer = layers.find(({ id }) => id === form.bearingLayer) ?? layers[0]
  const { areaId } = form
  // biome-ignore lint/correctness/useExhaustiveDependencies: the layer's id stands for it.
  useEffect(() => {
    if (areaId !== null && layer) void readBearing(areaId, layer, by)
  }, [areaId, layer?.id, by])
  if (!layer) {
    const what = by === 'contour' ? 'terrain model' : 'picture or terrain model'
    return <Notice tone="warn">The survey has no {what} on the map yet: add one in Marks.</Notice>
  }
  return (
    <>
      <SelectRow
        label="Read from"
        value={String(layer.id)}
        choices={layers.map((each) => ({ value: String(each.id), text: nameWithYear(each) }))}
        onChange={(id) => changeForm({ bearingLayer: Number(id) })}
      />
      <Reading />
    </>
  )
}

function ByLine() {
  const waiting = useStore(wantedClick) === 'line'
  const line = useStore(bearingLine)
  if (!waiting)
    return line.length === 2 ? (
      <Notice tone="good" action={{ label: 'Draw another', run: () => chooseBearing('line') }}>
        Lanes lie along the line on the map.
      </Notice>
    ) : (
      <Notice tone="plain" action={{ label: 'Draw it', run: () => chooseBearing('line') }}>
        No line is drawn yet.
      </Notice>
    )
  const which = line.length === 0 ? 'one end of the line' : 'the other end of it'
  return <Notice tone="plain">Click {which} on the map. Escape ends it.</Notice>
}

/** Where the lanes take their bearing from, and the bearing itself, which can always be typed. */
export function BearingRows({ form }: { readonly form: LaneForm }) {
  const { by } = form.bearingFrom
  return (
    <>
      <SelectRow
        label="Lanes along"
        value={by}
        choices={bearingSources.map((value) => ({ value, text: names[value] }))}
        onChange={(next) => {
          openPlan.set(null)
          chooseBearing(next)
        }}
      />
      {by === 'plough' || by === 'contour' ? <FromLayer form={form} by={by} /> : null}
      {by === 'line' ? <ByLine /> : null}
      <NumberRow
        label="Bearing"
        hint="From grid north. Empty: the fewest turns"
        unit="°"
        value={form.bearing}
        mayBeEmpty
        placeholder="auto"
        refuse={(value) => (Math.abs(value) <= 360 ? null : 'Give a bearing from 0 to 360°.')}
        onChange={(bearing) => {
          openPlan.set(null)
          typeBearing(bearing)
        }}
      />
    </>
  )
}
