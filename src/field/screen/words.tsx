import type { AwakeState } from '../device/keep-awake.ts'
import { troubleWords } from '../device/position-watch.ts'
import type { RecorderState } from '../walk/recorder.ts'
import classes from './field-page.module.css'

/** A position older than this is said to be old, seconds. */
export const oldAfterS = 15

interface WordsProps {
  readonly state: RecorderState
  readonly awake: AwakeState
  readonly now: number
}

/** What the person should know now, the gravest first; nothing when all is well. */
export function Words({ state, awake, now }: WordsProps) {
  const { storeFault, trouble, lastFix, phase } = state
  const recording = phase === 'recording'
  const silentS = recording && lastFix ? (now - lastFix.time) / 1000 : 0
  return (
    <div aria-live="assertive">
      {phase === 'no-store' ? (
        <p className={classes.fault}>
          This browser keeps nothing for this page (a private window, perhaps). Open it in an ordinary window.
        </p>
      ) : null}
      {storeFault ? <p className={classes.fault}>{storeFault}</p> : null}
      {recording && trouble ? <p className={classes.fault}>{troubleWords[trouble]}</p> : null}
      {recording && !trouble && !lastFix ? (
        <p className={classes.warn}>Waiting for the first position …</p>
      ) : null}
      {recording && !trouble && silentS > oldAfterS ? (
        <p className={classes.warn}>
          No position for {Math.round(silentS)} s. Browsers stop giving them while the screen is off or
          another app is in front.
        </p>
      ) : null}
      {recording && awake === 'unable' ? (
        <p className={classes.warn}>
          The screen cannot be kept on from here: keep it on yourself, or recording stops.
        </p>
      ) : null}
    </div>
  )
}
