import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Layer } from '#contract'
import { Notice } from '#ui'
import { editLayer } from './layer-acts.ts'
import { lackOf } from './layer-words.ts'
import classes from './layers.module.css'
import { placeByPoints } from './tie-state.ts'

/** A box for the code of the coordinate system that a file does not name. */
function SystemForm({ layer }: { readonly layer: Layer }) {
  const [text, setText] = useState(layer.epsg === null ? '' : String(layer.epsg))
  const code = /^\s*(?:epsg:)?\s*(\d{4,6})\s*$/i.exec(text)?.[1]
  const save = (event: FormEvent): void => {
    event.preventDefault()
    if (code !== undefined) void editLayer(layer, { epsg: Number(code) })
  }
  return (
    <form className={classes.system} onSubmit={save}>
      <TextInput
        label="EPSG code"
        placeholder="27700"
        inputMode="numeric"
        autoComplete="off"
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <Button type="submit" variant="default" disabled={code === undefined}>
        Take it
      </Button>
    </form>
  )
}

/** What keeps a layer from the map, and what to do about it; nothing where it is well. */
export function LayerState({ layer, gridless }: { readonly layer: Layer; readonly gridless: boolean }) {
  const lack = lackOf(layer)
  if (lack === 'file')
    return (
      <Notice tone="warn">
        {layer.fileName} is not where it was. Put it back, or beside the survey, or drop it here again: it is
        known by its contents.
      </Notice>
    )
  if (lack === 'system' || lack === 'outside')
    return (
      <>
        <Notice tone="warn">
          {lack === 'system'
            ? 'The file does not say which coordinate system it is in. Give its EPSG code, or drop its .prj file here.'
            : 'In the system that was given it lies outside the survey’s grid. Give another EPSG code.'}
        </Notice>
        <SystemForm layer={layer} />
      </>
    )
  if (lack === 'place')
    return (
      <>
        <Notice tone="plain">
          {gridless
            ? 'It lies nowhere yet. Once the survey knows where it lies, it can be placed by tie points; or drop its world file here.'
            : 'It lies nowhere yet. Place it by points that are seen both in it and on the map, or drop its world file here.'}
        </Notice>
        <Button variant="default" disabled={gridless} onClick={() => placeByPoints(layer.id)}>
          Place it by tie points
        </Button>
      </>
    )
  return layer.ready ? null : <p className={classes.hint}>Being made ready for the map.</p>
}
