import { Button } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { useEffect, useRef, useState } from 'react'
import type { SurveyView } from '#contract'
import { useLook } from '#ui'
import { useList } from '../api/queries.ts'
import { mapView, plan, pointed } from '../map/map-state.ts'
import { useStore } from '../state/store.ts'
import classes from './compare.module.css'
import { endCompare } from './compare-state.ts'
import type { SeenLayer } from './layer-looks.ts'
import { nameWithYear } from './layer-words.ts'
import { PaneMap } from './pane-map.ts'
import { stackHandlers } from './stack-handlers.ts'

/** One of the linked maps. */
function Pane({ seen, epsg }: { readonly seen: SeenLayer; readonly epsg: number }) {
  const target = useRef<HTMLDivElement>(null)
  const [made, setMade] = useState<PaneMap | null>(null)
  const main = useStore(plan)
  const areas = useList('areas')
  const { look } = useLook()
  const place = useStore(pointed)
  const view = useStore(mapView)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another grid has another view.
  useEffect(() => {
    if (!target.current || !main) return
    const pane = new PaneMap(target.current, main.view, { ...stackHandlers, pointed: pointed.set })
    const observer = new ResizeObserver(() => pane.resize())
    observer.observe(target.current)
    setMade(pane)
    return () => {
      observer.disconnect()
      pane.close()
      setMade(null)
      main.resize()
    }
  }, [main, epsg])
  useEffect(() => made?.showPictures([seen]), [made, seen])
  useEffect(() => made?.showAreas(areas), [made, areas])
  // biome-ignore lint/correctness/useExhaustiveDependencies: another look has other colours.
  useEffect(() => made?.paint(), [made, look])
  useEffect(() => made?.showCross(place ?? view?.centre ?? null), [made, place, view])
  const name = nameWithYear(seen.layer)
  return (
    <section className={classes.pane} aria-label={name}>
      <div
        ref={target}
        className={classes.paneMap}
        role="application"
        aria-label={`Map with ${name}. Arrow keys move all maps, plus and minus change their scale.`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the map takes keys of its own while it has the focus.
        tabIndex={0}
      />
      <p className={classes.paneName}>{name}</p>
    </section>
  )
}

interface BesideMapsProps {
  readonly ids: readonly number[]
  readonly layers: readonly SeenLayer[]
  readonly survey: SurveyView
}

/** Two to four maps of one place, each with a layer of its own, that move together. */
export function BesideMaps({ ids, layers, survey }: BesideMapsProps) {
  const shown = ids
    .map((id) => layers.find(({ layer }) => layer.id === id))
    .filter((seen) => seen !== undefined)
  return (
    <div className={classes.panes} data-count={shown.length} data-testid="beside-maps">
      {shown.map((seen) => (
        <Pane key={seen.layer.id} seen={seen} epsg={survey.grid?.epsg ?? 0} />
      ))}
      <div className={classes.paneEnd}>
        <Button
          variant="default"
          size="compact-sm"
          leftSection={<IconX size={16} aria-hidden="true" />}
          onClick={endCompare}
        >
          End comparing
        </Button>
      </div>
    </div>
  )
}
