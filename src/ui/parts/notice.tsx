import { IconAlertTriangle, IconCircleCheck, IconInfoCircle, IconX } from '@tabler/icons-react'
import type { ReactNode } from 'react'
import classes from './notice.module.css'

export type NoticeTone = 'plain' | 'good' | 'warn' | 'fault'

interface NoticeProps {
  readonly tone: NoticeTone
  readonly children: ReactNode
  readonly action?: { readonly label: string; readonly run: () => void } | undefined
  readonly onDismiss?: (() => void) | undefined
}

const icons = {
  plain: IconInfoCircle,
  good: IconCircleCheck,
  warn: IconAlertTriangle,
  fault: IconAlertTriangle,
}

/** A sentence that the reader should see, with at most one thing to do about it. Told apart by icon as well as colour. */
export function Notice({ tone, children, action, onDismiss }: NoticeProps) {
  const Icon = icons[tone]
  return (
    <div className={classes.notice} data-tone={tone}>
      <Icon className={classes.icon} size={20} stroke={1.75} aria-hidden="true" />
      <div className={classes.words}>{children}</div>
      {action ? (
        <button type="button" className={classes.act} onClick={action.run}>
          {action.label}
        </button>
      ) : null}
      {onDismiss ? (
        <button type="button" className={classes.act} onClick={onDismiss} aria-label="Close this message">
          <IconX size={16} aria-hidden="true" />
        </button>
      ) : null}
    </div>
  )
}
