import { Button } from '@mantine/core'
import { IconArrowsExchange, IconX } from '@tabler/icons-react'
import { type KeyboardEvent, type PointerEvent, useEffect, useRef } from 'react'
import type { SurveyView } from '#contract'
import { useStore } from '../state/store.ts'
import { BesideMaps } from './beside-maps.tsx'
import classes from './compare.module.css'
import { type Compare, compare, endCompare, moveDivider, stepFlicker } from './compare-state.ts'
import type { SeenLayer } from './layer-looks.ts'
import { nameWithYear } from './layer-words.ts'
import { calmMotion } from './motion.ts'
import { useLayers } from './use-layers.ts'

type Swipe = Extract<Compare, { kind: 'swipe' }>
type Flicker = Extract<Compare, { kind: 'flicker' }>

const nameOf = (layers: readonly SeenLayer[], id: number | undefined): string => {
  const seen = layers.find(({ layer }) => layer.id === id)
  return seen ? nameWithYear(seen.layer) : ''
}

const steps: Readonly<Record<string, number>> = {
  ArrowLeft: -0.02,
  ArrowDown: -0.02,
  ArrowRight: 0.02,
  ArrowUp: 0.02,
  PageDown: -0.1,
  PageUp: 0.1,
  Home: -1,
  End: 1,
}

/** The divider between two pictures: dragged, or moved with the keys of a slider. */
function Divider({ now, layers }: { readonly now: Swipe; readonly layers: readonly SeenLayer[] }) {
  const box = useRef<HTMLDivElement>(null)
  const toPointer = (event: PointerEvent<HTMLElement>): void => {
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) return
    const { left, width } = box.current!.getBoundingClientRect()
    moveDivider((event.clientX - left) / width)
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = steps[event.key]
    if (step === undefined) return
    event.preventDefault()
    event.stopPropagation()
    moveDivider(now.divider + step)
  }
  const [left, right] = now.ids.map((id) => nameOf(layers, id))
  const percent = Math.round(now.divider * 100)
  return (
    <div ref={box} className={classes.swipe}>
      <div className={classes.line} style={{ left: `${now.divider * 100}%` }}>
        <span className={classes.left}>{left}</span>
        <span className={classes.right}>{right}</span>
        <div
          className={classes.handle}
          role="slider"
          tabIndex={0}
          aria-label={`Divider between ${left} and ${right}`}
          aria-orientation="horizontal"
          aria-valuemin={0}
          aria-valuemax={100}
          aria-valuenow={percent}
          aria-valuetext={`${percent} % of the map shows ${left}`}
          data-testid="swipe-divider"
          onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
          onPointerMove={toPointer}
          onKeyDown={onKeyDown}
        >
          <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
            <path
              d="M7 5L2 10L7 15M13 5L18 10L13 15"
              fill="none"
              stroke="currentColor"
              strokeWidth="2"
              strokeLinecap="round"
              strokeLinejoin="round"
            />
          </svg>
        </div>
      </div>
    </div>
  )
}

/** Exchanges the pictures now and then, unless the system asks for less motion. */
function useFlickering({ changesPerSecond }: Flicker): void {
  useEffect(() => {
    if (changesPerSecond === 0 || calmMotion()) return
    const timer = setInterval(stepFlicker, 1000 / changesPerSecond)
    return () => clearInterval(timer)
  }, [changesPerSecond])
}

/** Which of two alternating pictures is seen, and the way to the other. */
function FlickerBar({ now, layers }: { readonly now: Flicker; readonly layers: readonly SeenLayer[] }) {
  useFlickering(now)
  const shown = now.ids[now.showsSecond ? 1 : 0]
  return (
    <div className={classes.bar}>
      <p
        className={classes.shown}
        aria-live={now.changesPerSecond === 0 ? 'polite' : 'off'}
        data-testid="flicker-shown"
      >
        {nameOf(layers, shown)}
      </p>
      <Button
        size="compact-sm"
        leftSection={<IconArrowsExchange size={16} aria-hidden="true" />}
        onClick={stepFlicker}
      >
        The other
      </Button>
      <Button
        variant="default"
        size="compact-sm"
        leftSection={<IconX size={16} aria-hidden="true" />}
        onClick={endCompare}
      >
        End
      </Button>
    </div>
  )
}

/** What stands on the map while layers are compared. */
export function CompareOverMap({ survey }: { readonly survey: SurveyView | null }) {
  const now = useStore(compare)
  const layers = useLayers()
  if (!now || !survey?.grid) return null
  if (now.kind === 'swipe') return <Divider now={now} layers={layers} />
  if (now.kind === 'flicker') return <FlickerBar now={now} layers={layers} />
  return <BesideMaps ids={now.ids} layers={layers} survey={survey} />
}
