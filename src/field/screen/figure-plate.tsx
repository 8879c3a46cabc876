import { lengthText, wholeNumber } from '#ui'
import type { RecorderState } from '../walk/recorder.ts'
import classes from './field-page.module.css'

/** What has been recorded so far, in figures that can be read at arm's length. */
export function FigurePlate({ state, now }: { readonly state: RecorderState; readonly now: number }) {
  const { figures, lastFix, walk } = state
  const seconds = walk ? Math.max(0, Math.floor((now - walk.startedAt) / 1000)) : 0
  return (
    <dl className={classes.figures}>
      <Figure name="Distance" value={lengthText(figures.distanceM)} />
      <Figure name="Time" value={clockText(seconds)} />
      <Figure name="Accuracy" value={lastFix ? `± ${lengthText(lastFix.accuracyM)}` : '–'} />
      <Figure name="Fixes" value={wholeNumber(figures.fixes)} />
    </dl>
  )
}

function Figure({ name, value }: { readonly name: string; readonly value: string }) {
  return (
    <div className={classes.figure}>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </div>
  )
}

/** Hours, minutes and seconds: 1:05:09. */
function clockText(seconds: number): string {
  const two = (value: number): string => String(value).padStart(2, '0')
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`
}
