import { useState } from 'react'
import type { Recorder, RecorderState } from '../walk/recorder.ts'
import classes from './field-page.module.css'
import { oldAfterS } from './words.tsx'

interface RecordButtonsProps {
  readonly recorder: Recorder
  readonly state: RecorderState
  readonly now: number
}

/** Start, or Mark and Stop. Stop asks once more, for a pocket presses buttons. */
export function RecordButtons({ recorder, state, now }: RecordButtonsProps) {
  const [stopping, setStopping] = useState(false)
  if (state.phase === 'idle') {
    return (
      <button type="button" className={classes.main} onClick={() => void startWalk(recorder)}>
        Start recording
      </button>
    )
  }
  const { lastFix } = state
  const ageS = lastFix ? Math.round((now - lastFix.time) / 1000) : 0
  return (
    <>
      <button type="button" className={classes.main} disabled={!lastFix} onClick={() => void recorder.mark()}>
        Mark a findspot
        {lastFix && ageS > oldAfterS ? <small>position is {ageS} s old</small> : null}
      </button>
      {stopping ? (
        <div className={classes.pair}>
          <button
            type="button"
            className={classes.danger}
            onClick={() => void stopWalk(recorder, setStopping)}
          >
            Yes, stop
          </button>
          <button type="button" className={classes.second} onClick={() => setStopping(false)}>
            Go on
          </button>
        </div>
      ) : (
        <button type="button" className={classes.second} onClick={() => setStopping(true)}>
          Stop recording
        </button>
      )}
    </>
  )
}

async function startWalk(recorder: Recorder): Promise<void> {
  // Asks the browser not to clear what is kept when space runs short; it may decline, and says so nowhere that helps.
  void navigator.storage?.persist?.()
  await recorder.start(crypto.randomUUID())
}

async function stopWalk(recorder: Recorder, setStopping: (stopping: boolean) => void): Promise<void> {
  await recorder.stop()
  setStopping(false)
}
