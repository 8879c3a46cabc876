import { ActionIcon } from '@mantine/core'
import { IconX } from '@tabler/icons-react'
import { useEffect, useState } from 'react'
import { countText, ProgressBar } from '#ui'
import { goTo } from '../map/map-state.ts'
import { jobOfKind, runningJobs } from '../state/jobs.ts'
import { useStore } from '../state/store.ts'
import { cancelImport, closeSummary, type FileOutcome, importState } from './import-queue.ts'
import classes from './import-tray.module.css'
import { boundsOfAll, faultPlace, outcomeText } from './summary.ts'

const mostFaults = 50

function OutcomeRow({ outcome }: { readonly outcome: FileOutcome }) {
  const { name, imported, fault } = outcome
  const faults = imported?.faults ?? []
  return (
    <li className={classes.file}>
      <p className={classes.name}>{name}</p>
      {imported ? <p className={classes.outcome}>{outcomeText(imported)}</p> : null}
      {fault === null && faults.length === 0 ? null : (
        <ul className={classes.faults} aria-label={`Not understood in ${name}`}>
          {fault === null ? null : (
            <li className={classes.fault} data-whole>
              {fault}
            </li>
          )}
          {faults.slice(0, mostFaults).map((entry, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: two faults may read alike, and the list never changes.
            <li key={i} className={classes.fault}>
              <span className={classes.place}>{faultPlace(entry.line)}</span>
              <span>{entry.text}</span>
            </li>
          ))}
          {faults.length > mostFaults ? (
            <li className={classes.fault} data-whole>
              And {countText(faults.length - mostFaults, 'more like these', 'more like these')}.
            </li>
          ) : null}
        </ul>
      )}
    </li>
  )
}

/** The imported parts into view, once a batch has ended. */
function useGoToImported(): void {
  const { batch, outcomes } = useStore(importState)
  const [seen, setSeen] = useState(batch)
  useEffect(() => {
    if (batch === seen) return
    setSeen(batch)
    goTo(boundsOfAll(outcomes.map(({ imported }) => imported?.bounds ?? null)))
  }, [batch, seen, outcomes])
}

/** What is being read, and then what came in of it and what was not understood. */
export function ImportTray() {
  const { reading, outcomes } = useStore(importState)
  const job = jobOfKind(useStore(runningJobs), 'import')
  useGoToImported()
  if (!reading && outcomes.length === 0) return null
  const place = reading && reading.total > 1 ? ` (${reading.place} of ${reading.total})` : ''
  if (reading)
    return (
      <ProgressBar
        label={`${job?.label ?? `Sending ${reading.name}`}${place}`}
        done={job?.done ?? 0}
        onCancel={cancelImport}
      />
    )
  return (
    <section className={classes.tray} aria-label="Files added" data-testid="import-summary">
      <div className={classes.head}>
        <h2 className={classes.title}>What came in</h2>
        <ActionIcon aria-label="Close the summary" onClick={closeSummary}>
          <IconX size={18} aria-hidden="true" />
        </ActionIcon>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a list that scrolls must be reachable by keyboard. */}
      <ul className={classes.files} tabIndex={0} aria-label="Files">
        {outcomes.map((outcome, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: outcomes are only ever added at the end.
          <OutcomeRow key={i} outcome={outcome} />
        ))}
      </ul>
    </section>
  )
}
