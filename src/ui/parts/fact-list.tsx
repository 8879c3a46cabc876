import { ActionIcon } from '@mantine/core'
import { IconCopy } from '@tabler/icons-react'
import classes from './fact-list.module.css'

export interface Fact {
  readonly name: string
  /** As it is shown. */
  readonly value: string
  /** As it is copied; a fact without it has no button. */
  readonly copy?: string | undefined
}

interface FactListProps {
  readonly facts: readonly Fact[]
  readonly onCopy: (text: string) => void
}

/** Names and values one below the other, with a button to copy each value that is worth it. */
export function FactList({ facts, onCopy }: FactListProps) {
  return (
    <dl className={classes.facts}>
      {facts.map(({ name, value, copy }) => (
        <div key={name} className={classes.fact}>
          <dt>{name}</dt>
          <dd>{value}</dd>
          {copy === undefined ? null : (
            <dd>
              <ActionIcon
                aria-label={`Copy ${name}`}
                title={`Copy ${copy}`}
                size={28}
                onClick={() => onCopy(copy)}
              >
                <IconCopy size={16} aria-hidden="true" />
              </ActionIcon>
            </dd>
          )}
        </div>
      ))}
    </dl>
  )
}
