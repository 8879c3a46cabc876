import type { ReactNode } from 'react'
import classes from './empty-state.module.css'

interface EmptyStateProps {
  readonly title: string
  readonly children: ReactNode
  readonly action?: ReactNode
}

/** What stands where a list will be: what is missing, and what to do about it. */
export function EmptyState({ title, children, action }: EmptyStateProps) {
  return (
    <div className={classes.empty}>
      <p className={classes.title}>{title}</p>
      <div>{children}</div>
      {action ? <div className={classes.foot}>{action}</div> : null}
    </div>
  )
}
