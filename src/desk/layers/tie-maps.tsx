import type OlMap from 'ol/Map.js'
import View from 'ol/View.js'
import { type KeyboardEvent, type RefObject, useEffect, useRef, useState } from 'react'
import type { Layer } from '#contract'
import { useLook } from '#ui'
import { useList } from '../api/queries.ts'
import { plan } from '../map/map-state.ts'
import { useStore } from '../state/store.ts'
import { baseMapSource } from './base-map-state.ts'
import { isPlaced } from './layer-looks.ts'
import { PaneMap } from './pane-map.ts'
import { pictureMap } from './picture-map.ts'
import { stackHandlers } from './stack-handlers.ts'
import type { DraftPoint, Side } from './tie-draft.ts'
import { TieMarks } from './tie-marks.ts'
import classes from './tie-page.module.css'
import { useLayers } from './use-layers.ts'
import { viewFor } from './view-words.ts'

export interface TieMapProps {
  readonly layer: Layer
  readonly points: readonly DraftPoint[]
  readonly chosen: number | null
  readonly onPlace: (side: Side, place: readonly [number, number]) => void
  readonly onMove: (id: number, side: Side, place: readonly [number, number]) => void
  readonly onChoose: (id: number) => void
}

interface Opened {
  readonly map: OlMap
  readonly marks: TieMarks
  readonly pane?: PaneMap
}

/** Makes one of the two maps in its element, and keeps its points as the table has them. */
function useTieMap(
  side: Side,
  props: TieMapProps,
  open: (target: HTMLElement, marks: TieMarks) => Omit<Opened, 'marks'>,
  close: (made: Opened) => void,
) {
  const target = useRef<HTMLDivElement>(null)
  const [made, setMade] = useState<Opened | null>(null)
  const { look } = useLook()
  const now = useRef(props)
  now.current = props
  // biome-ignore lint/correctness/useExhaustiveDependencies: the map is made once; what it shows comes by the effects below.
  useEffect(() => {
    const element = target.current
    if (!element) return
    const marks = new TieMarks()
    const opened: Opened = { ...open(element, marks), marks }
    const { map } = opened
    marks.attach(map, (id, place) => now.current.onMove(id, side, onSide(side, place)))
    map.on('click', ({ pixel, coordinate: [x = 0, y = 0] }) => {
      const hit = marks.at(pixel)
      if (hit === null) now.current.onPlace(side, onSide(side, [x, y]))
      else now.current.onChoose(hit)
    })
    const observer = new ResizeObserver(() => map.updateSize())
    observer.observe(element)
    setMade(opened)
    return () => {
      observer.disconnect()
      close(opened)
      setMade(null)
    }
  }, [])
  const { points, chosen } = props
  // biome-ignore lint/correctness/useExhaustiveDependencies: another look has other colours.
  useEffect(() => {
    const marks = points.flatMap((point, i) => {
      const place = point[side]
      return place ? [{ id: point.id, number: i + 1, place: onSide(side, place) }] : []
    })
    made?.marks.show(marks, chosen)
  }, [made, points, chosen, side, look])
  return { target, made }
}

/** Between a map's coordinates and what a tie point holds: rows run down. The same both ways. */
function onSide(side: Side, [x, y]: readonly [number, number]): [number, number] {
  return side === 'picture' ? [x, -y] : [x, y]
}

/** Enter sets a point where the cross stands: in the middle. */
function onEnter(side: Side, made: Opened | null, { onPlace }: TieMapProps) {
  return (event: KeyboardEvent): void => {
    const middle = made?.map.getView().getCenter()
    if (event.key !== 'Enter' || !middle) return
    event.preventDefault()
    onPlace(side, onSide(side, [middle[0] ?? 0, middle[1] ?? 0]))
  }
}

function MapBox({
  label,
  title,
  target,
  onKeyDown,
  testId,
}: {
  readonly label: string
  readonly title: string
  readonly target: RefObject<HTMLDivElement | null>
  readonly onKeyDown: (event: KeyboardEvent) => void
  readonly testId: string
}) {
  return (
    <section className={classes.side} aria-label={title}>
      <div
        ref={target}
        className={classes.map}
        role="application"
        aria-label={`${label} Arrow keys move it, plus and minus change its scale, Enter sets a point where the cross stands.`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the map takes keys of its own while it has the focus.
        tabIndex={0}
        data-testid={testId}
        onKeyDown={onKeyDown}
      />
      <span className={classes.cross} aria-hidden="true" />
      <p className={classes.sideTitle}>{title}</p>
    </section>
  )
}

/** The picture in its own pixels. */
export function TiePicture(props: TieMapProps) {
  const { layer } = props
  const { target, made } = useTieMap(
    'picture',
    props,
    (element, marks) => ({ map: pictureMap(element, layer, viewFor(layer, undefined), marks) }),
    ({ map }) => {
      map.setTarget(undefined)
      map.dispose()
    },
  )
  return (
    <MapBox
      title="In the picture"
      label="The picture."
      target={target}
      onKeyDown={onEnter('picture', made, props)}
      testId="tie-picture"
    />
  )
}

/** The ground: what else is laid on the map, and the search areas. */
export function TieGround(props: TieMapProps) {
  const areas = useList('areas')
  const layers = useLayers()
  const { look } = useLook()
  const { target, made } = useTieMap(
    'ground',
    props,
    (element, marks) => {
      const main = plan.get()!.view
      const view = new View({
        projection: main.getProjection(),
        center: main.getCenter() ?? [0, 0],
        resolution: main.getResolution() ?? 1,
        minResolution: main.getMinResolution(),
        maxResolution: main.getMaxResolution(),
        enableRotation: false,
      })
      const pane = new PaneMap(element, view, { ...stackHandlers, pointed: () => undefined }, [marks.layer])
      return { map: pane.map, pane }
    },
    ({ pane }) => pane?.close(),
  )
  const pane = made?.pane
  const { id } = props.layer
  useEffect(() => {
    pane?.showPictures(layers.filter(({ layer, look }) => isPlaced(layer) && look.shown && layer.id !== id))
  }, [pane, layers, id])
  useEffect(() => pane?.showAreas(areas), [pane, areas])
  const base = useStore(baseMapSource)
  useEffect(() => pane?.showBase(base), [pane, base])
  // biome-ignore lint/correctness/useExhaustiveDependencies: another look has other colours.
  useEffect(() => pane?.paint(), [pane, look])
  return (
    <MapBox
      title="On the ground"
      label="The ground."
      target={target}
      onKeyDown={onEnter('ground', made, props)}
      testId="tie-ground"
    />
  )
}
