import type { ReactNode } from 'react'
import classes from './figure-tile.module.css'

interface FigureTileProps {
  readonly label: string
  readonly value: string
  /** A short remark beside the figure. */
  readonly note?: string | undefined
  readonly testId?: string
}

/** One figure with its name. Goes inside `FigureTiles`. */
export function FigureTile({ label, value, note, testId }: FigureTileProps) {
  return (
    <div className={classes.tile}>
      <dt className={classes.label}>{label}</dt>
      <dd className={classes.figure}>
        <span className={classes.value} data-testid={testId}>
          {value}
        </span>
        {note ? <span className={classes.note}>{note}</span> : null}
      </dd>
    </div>
  )
}

/** Figures side by side on one plate, as many a row as fit. */
export function FigureTiles({ children }: { readonly children: ReactNode }) {
  return <dl className={classes.tiles}>{children}</dl>
}

interface ShareFigureProps {
  readonly label: string
  /** The share in words, '67.9 %'. */
  readonly value: string
  /** The same share, 0 to 1, for the bar. */
  readonly share: number
  readonly testId?: string
}

/** The one figure that a stage is about: a share, large, with a bar that shows it. */
export function ShareFigure({ label, value, share, testId }: ShareFigureProps) {
  return (
    <div className={classes.share}>
      <p className={classes.shareValue} data-testid={testId}>
        {value}
      </p>
      <p className={classes.shareLabel}>{label}</p>
      <div className={classes.bar} aria-hidden="true">
        <div className={classes.barDone} style={{ width: `${Math.min(100, Math.max(0, share * 100))}%` }} />
      </div>
    </div>
  )
}
