import { Button } from '@mantine/core'
import { IconPlayerPause, IconPlayerPlay } from '@tabler/icons-react'
import { useEffect, useMemo, useState } from 'react'
import type { Visit } from '#contract'
import { momentText } from '#ui'
import { useVisitWalk } from '../api/queries.ts'
import { SliderRow } from '../layers/slider-row.tsx'
import { spanOf } from '../map/walk-lines.ts'
import { useStore } from '../state/store.ts'
import classes from './visits-panel.module.css'
import { replayAt } from './visits-state.ts'

/** A whole visit plays in this time; without motion it goes on in a few steps instead. */
const playS = 30
const smoothMs = 100
const calmMs = 1500

function stepMs(): number {
  return matchMedia('(prefers-reduced-motion: reduce)').matches ? calmMs : smoothMs
}

/** The visit again from its start: a slider over its time, and a button that lets it run. */
export function Replay({ visit }: { readonly visit: Visit }) {
  const { data: walk } = useVisitWalk(visit.id)
  const span = useMemo(() => (walk ? spanOf(walk) : null), [walk])
  const at = useStore(replayAt)
  const [playing, setPlaying] = useState(false)
  useEffect(() => () => replayAt.set(null), [])
  useEffect(() => {
    if (!playing || span === null) return
    const [first, last] = span
    const every = stepMs()
    const timer = setInterval(() => {
      const next = (replayAt.get() ?? first) + ((last - first) * every) / (1000 * playS)
      replayAt.set(Math.min(next, last))
      if (next >= last) setPlaying(false)
    }, every)
    return () => clearInterval(timer)
  }, [playing, span])
  if (span === null) return null
  const [first, last] = span
  const play = (): void => {
    if (!playing && (at === null || at >= last)) replayAt.set(first)
    setPlaying(!playing)
  }
  const text = at === null ? 'the whole visit' : momentText(new Date(at * 1000).toISOString())
  return (
    <div className={classes.main}>
      <SliderRow
        label="Replay"
        value={at ?? last}
        least={first}
        most={last}
        step={Math.max(1, (last - first) / 1000)}
        text={text}
        onChange={(value) => {
          setPlaying(false)
          replayAt.set(value)
        }}
      />
      <div className={classes.gapsHead}>
        <Button
          variant="default"
          leftSection={
            playing ? (
              <IconPlayerPause size={16} aria-hidden="true" />
            ) : (
              <IconPlayerPlay size={16} aria-hidden="true" />
            )
          }
          onClick={play}
        >
          {playing ? 'Pause' : 'Play'}
        </Button>
        <Button
          variant="default"
          disabled={at === null}
          onClick={() => {
            setPlaying(false)
            replayAt.set(null)
          }}
        >
          Whole visit
        </Button>
      </div>
    </div>
  )
}
