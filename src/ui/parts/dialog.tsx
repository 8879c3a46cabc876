import { ActionIcon } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { type MouseEvent, type ReactNode, useEffect, useId, useRef } from 'react'
import classes from './dialog.module.css'

interface DialogProps {
  readonly title: string
  readonly onClose: () => void
  /** As wide as the page allows: for pictures. */
  readonly wide?: boolean
  readonly children: ReactNode
}

/** A sheet over the page that must be answered or closed first; Escape, the cross or a click beside it closes it. */
export function Dialog({ title, onClose, wide = false, children }: DialogProps) {
  const box = useRef<HTMLDialogElement>(null)
  const body = useRef<HTMLDivElement>(null)
  const id = useId()
  useEffect(() => {
    const dialog = box.current
    dialog?.showModal()
    // The first thing to do, not the cross.
    body.current?.querySelector<HTMLElement>('input, textarea, button')?.focus()
    return () => dialog?.close()
  }, [])
  const onClick = (event: MouseEvent): void => {
    if (event.target === box.current) onClose()
  }
  return (
    <dialog
      ref={box}
      className={classes.dialog}
      data-wide={wide || undefined}
      aria-labelledby={id}
      onClick={onClick}
      // The page behind has keys of its own.
      onKeyDown={(event) => event.stopPropagation()}
      onCancel={(event) => {
        event.preventDefault()
        onClose()
      }}
    >
      <div className={classes.sheet}>
        <div className={classes.head}>
          <h2 className={classes.title} id={id}>
            {title}
          </h2>
          <ActionIcon aria-label="Close" onClick={onClose}>
            <IconX size={20} aria-hidden="true" />
          </ActionIcon>
        </div>
        <div ref={body} className={classes.body}>
          {children}
        </div>
      </div>
    </dialog>
  )
}
