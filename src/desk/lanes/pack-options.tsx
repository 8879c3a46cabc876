import { Button, Checkbox } from '@mantine/core'
import { useState } from 'react'
import { countText, NumberRow } from '#ui'
import { useList } from '../api/queries.ts'
import { nameWithYear } from '../layers/layer-words.ts'
import { saveWalkPack } from '../survey/save-file.ts'
import classes from './lanes.module.css'

/** Which pictures go out with a plan, and how large they may be; then the walk pack itself. */
export function PackOptions({
  planId,
  save,
}: {
  readonly planId: number
  readonly save: (make: () => Promise<string>) => Promise<void>
}) {
  const layers = useList('layers').filter(({ bounds, found }) => bounds !== null && found)
  const [chosen, setChosen] = useState<readonly number[]>([])
  const [sidePx, setSide] = useState(2048)
  const [mostMb, setMost] = useState(10)
  const [saving, setSaving] = useState(false)
  // One that has been taken out since is not asked for.
  const wanted = layers.map(({ id }) => id).filter((id) => chosen.includes(id))
  const run = async (): Promise<void> => {
    setSaving(true)
    await save(() => saveWalkPack(planId, { layers: wanted, sidePx, mostMb }))
    setSaving(false)
  }
  return (
    <>
      {layers.length === 0 ? null : (
        <details>
          <summary className={classes.summary}>
            Pictures in the walk pack: {wanted.length === 0 ? 'none' : countText(wanted.length, 'picture')}
          </summary>
          <div className={classes.form}>
            {layers.map((layer) => (
              <Checkbox
                key={layer.id}
                label={nameWithYear(layer)}
                checked={chosen.includes(layer.id)}
                onChange={(event) => {
                  const { checked } = event.currentTarget
                  setChosen((now) => (checked ? [...now, layer.id] : now.filter((each) => each !== layer.id)))
                }}
              />
            ))}
            <NumberRow
              label="Longest side"
              hint="Of each picture, cut to the area and 20 m about it"
              unit="px"
              value={sidePx}
              refuse={(value) =>
                Number.isInteger(value) && value >= 256 && value <= 8192
                  ? null
                  : 'Give a whole number from 256 to 8,192.'
              }
              onChange={(value) => value !== null && setSide(value)}
            />
            <NumberRow
              label="At most"
              hint="All pictures together"
              unit="MB"
              value={mostMb}
              refuse={(value) => (value >= 0.1 && value <= 200 ? null : 'Give a value from 0.1 to 200 MB.')}
              onChange={(value) => value !== null && setMost(value)}
            />
          </div>
        </details>
      )}
      <Button variant="default" loading={saving} onClick={() => void run()}>
        Save the walk pack
      </Button>
    </>
  )
}
