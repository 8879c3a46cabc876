import { useEffect, useState, useSyncExternalStore } from 'react'
import { type LookChoice, useLook } from '#ui'
import { type AwakeState, keepAwake } from '../device/keep-awake.ts'
import type { Recorder } from '../walk/recorder.ts'
import classes from './field-page.module.css'
import { FigurePlate } from './figure-plate.tsx'
import { MarkList } from './mark-list.tsx'
import { PackView } from './pack-view.tsx'
import { RecordButtons } from './record-buttons.tsx'
import { WalkList } from './walk-list.tsx'
import { Words } from './words.tsx'

/** The one page of the field app: record, mark, hand over. */
export function FieldPage({ recorder }: { readonly recorder: Recorder }) {
  const state = useSyncExternalStore(recorder.subscribe, recorder.state)
  const recording = state.phase === 'recording'
  const awake = useAwake(recording)
  const now = useClock(recording)
  return (
    <main className={classes.page}>
      <header className={classes.head}>
        <h1 className={classes.title}>Lynchet field</h1>
        <LookButton />
      </header>
      <p className={classes.phase} data-phase={state.phase} role="status">
        {phaseWords[state.phase]}
      </p>
      <Words state={state} awake={awake} now={now} />
      {recording ? <FigurePlate state={state} now={now} /> : null}
      {state.phase === 'idle' || recording ? (
        <RecordButtons recorder={recorder} state={state} now={now} />
      ) : null}
      {recording ? <MarkList recorder={recorder} marks={state.marks} /> : null}
      <PackView state={state} />
      <WalkList recorder={recorder} past={state.past} />
      <footer className={classes.foot}>
        <p>Walks stay on this device until you take them off. Nothing is sent anywhere.</p>
        <p>
          Search only with leave. Unknown ammunition, human remains, or many things together: stop, leave them
          in place, call the police or the finds officer.
        </p>
      </footer>
    </main>
  )
}

const phaseWords = {
  loading:
    'Opening what is kept on this device. If this stays, the page is open in another window: close that one.',
  idle: 'Not recording',
  recording: 'Recording',
  'no-store': 'Nothing can be recorded here',
} as const

/** The time now, once a second while it is wanted, milliseconds. */
function useClock(running: boolean): number {
  const [now, setNow] = useState(Date.now)
  useEffect(() => {
    if (!running) return
    const timer = setInterval(() => setNow(Date.now()), 1000)
    return () => clearInterval(timer)
  }, [running])
  return now
}

function useAwake(wanted: boolean): AwakeState {
  const [state, setState] = useState<AwakeState>('off')
  const [want] = useState(() => keepAwake(setState))
  useEffect(() => want(wanted), [want, wanted])
  return state
}

const looks: readonly { choice: LookChoice; words: string }[] = [
  { choice: 'system', words: 'Look: as the device' },
  { choice: 'high-contrast', words: 'Look: for sun' },
  { choice: 'light', words: 'Look: light' },
  { choice: 'dark', words: 'Look: dark' },
]

/** Goes round the looks, one press each. */
function LookButton() {
  const { choice, choose } = useLook()
  const at = looks.findIndex((look) => look.choice === choice)
  const next = looks[(at + 1) % looks.length]!
  return (
    <button type="button" className={classes.quiet} onClick={() => choose(next.choice)}>
      {looks[at]!.words}
    </button>
  )
}
