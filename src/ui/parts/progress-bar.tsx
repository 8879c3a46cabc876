import { Button } from '@mantine/core'
import classes from './progress-bar.module.css'

interface ProgressBarProps {
  /** What is being done, in words. */
  readonly label: string
  /** 0 to 1. */
  readonly done: number
  readonly onCancel?: (() => void) | undefined
}

/** Long work under way: what it is doing, how far it has come, and Cancel. */
export function ProgressBar({ label, done, onCancel }: ProgressBarProps) {
  const words = `${label.charAt(0).toUpperCase()}${label.slice(1)}`
  const percent = Math.round(Math.min(1, Math.max(0, done)) * 100)
  return (
    <div className={classes.box}>
      <div className={classes.label}>
        <span className={classes.words}>{words}</span>
        <span className={classes.share}>{percent} %</span>
      </div>
      <div
        className={classes.track}
        role="progressbar"
        aria-label={words}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={percent}
      >
        <div className={classes.done} style={{ width: `${percent}%` }} />
      </div>
      {onCancel ? (
        <Button className={classes.cancel} variant="default" size="compact-sm" onClick={onCancel}>
          Cancel
        </Button>
      ) : null}
    </div>
  )
}
