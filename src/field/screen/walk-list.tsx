import { useId, useState } from 'react'
import { countText, momentText } from '#ui'
import { canShare, downloadFile, type HandedOver, shareFile } from '../device/hand-over.ts'
import type { Recorder, WalkSummary } from '../walk/recorder.ts'
import { gpxFile } from '../walk/walk-gpx.ts'
import classes from './field-page.module.css'

interface WalkListProps {
  readonly recorder: Recorder
  readonly past: readonly WalkSummary[]
}

/** Walks that were stopped, newest first: to be taken home as GPX, then taken off the device. */
export function WalkList({ recorder, past }: WalkListProps) {
  const id = useId()
  if (past.length === 0) return null
  return (
    <section aria-labelledby={id}>
      <h2 id={id} className={classes.heading}>
        Walks on this device
      </h2>
      <ol className={classes.list}>
        {past.map((summary) => (
          <WalkRow key={summary.walk.id} recorder={recorder} summary={summary} />
        ))}
      </ol>
    </section>
  )
}

interface WalkRowProps {
  readonly recorder: Recorder
  readonly summary: WalkSummary
}

function WalkRow({ recorder, summary }: WalkRowProps) {
  const { walk, fixes, marks } = summary
  const [said, setSaid] = useState('')
  const [removing, setRemoving] = useState(false)
  const handOver = async (way: (file: File) => HandedOver | Promise<HandedOver>): Promise<void> => {
    setSaid(await handedOver(recorder, walk.id, way))
  }
  const shareable = canShare(new File([], 'walk.gpx', { type: gpxType }))
  return (
    <li className={classes.item}>
      <p className={classes.label}>
        {momentText(new Date(walk.startedAt).toISOString())} · {countText(fixes, 'fix', 'fixes')} ·{' '}
        {countText(marks, 'findspot')}
      </p>
      <div className={classes.pair}>
        <button type="button" className={classes.second} onClick={() => void handOver(downloadFile)}>
          Save as GPX
        </button>
        {shareable ? (
          <button type="button" className={classes.second} onClick={() => void handOver(shareFile)}>
            Send GPX to …
          </button>
        ) : null}
      </div>
      <p role="status">{said}</p>
      {removing ? (
        <div className={classes.pair}>
          <button type="button" className={classes.danger} onClick={() => void recorder.removeWalk(walk.id)}>
            Yes, delete for good
          </button>
          <button type="button" className={classes.second} onClick={() => setRemoving(false)}>
            Keep it
          </button>
        </div>
      ) : (
        <button type="button" className={classes.quiet} onClick={() => setRemoving(true)}>
          Delete this walk from the device
        </button>
      )}
    </li>
  )
}

const gpxType = 'application/gpx+xml'

const saidOf: Record<HandedOver, string> = {
  shared: 'Handed over. Keep the walk here until the desk has it.',
  downloaded: 'Saved among this device’s downloads. Drop the file on the desk.',
  'turned-back': '',
}

async function handedOver(
  recorder: Recorder,
  id: string,
  way: (file: File) => HandedOver | Promise<HandedOver>,
): Promise<string> {
  try {
    const content = await recorder.content(id)
    if (!content) return 'This walk is no longer on the device.'
    const { name, text } = gpxFile(content)
    return saidOf[await way(new File([text], name, { type: gpxType }))]
  } catch (error) {
    return `The file could not be handed over: ${error instanceof Error ? error.message : String(error)}. The walk is still here.`
  }
}
