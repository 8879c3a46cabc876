import { ActionIcon } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { type ReactNode, useId } from 'react'
import classes from './card.module.css'

interface CardProps {
  readonly title: string
  readonly closeLabel: string
  readonly onClose: () => void
  readonly testId: string
  readonly children: ReactNode
}

/** A sheet over the map about one thing, named by its title, with a cross to close it. */
export function Card({ title, closeLabel, onClose, testId, children }: CardProps) {
  const id = useId()
  return (
    <section className={classes.card} aria-labelledby={id} data-testid={testId}>
      <div className={classes.head}>
        <h2 className={classes.title} id={id}>
          {title}
        </h2>
        <ActionIcon aria-label={closeLabel} title={closeLabel} onClick={onClose} size={32}>
          <IconX size={16} aria-hidden="true" />
        </ActionIcon>
      </div>
      <div className={classes.body}>{children}</div>
    </section>
  )
}
