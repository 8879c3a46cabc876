import { useEffect, useState } from 'react'
import { photographTarget } from '../finds/finds-state.ts'
import { addPhotographs, arePictures } from '../finds/photograph-adding.ts'
import { lookAtTable } from '../finds/table-state.ts'
import { matchPhotographs } from '../photographs/matching-state.ts'
import { type Stage, stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { fileInputId, takeChosen } from './choose-files.ts'
import classes from './drop-target.module.css'
import { importFiles } from './import-queue.ts'

/**
 * Pictures dropped while a find's record is open are its photographs, in Visits and Finds else they are matched to finds; a workbook is looked at first;
 * all else is brought into the survey.
 */
function takeDropped(files: readonly File[]): void {
  const find = photographTarget.get()
  const [first] = files
  if (find && arePictures(files)) void addPhotographs(find, files)
  else if (matchesHere(stage.get()) && arePictures(files)) void matchPhotographs(files)
  else if (first && files.length === 1 && /\.xlsx$/i.test(first.name)) lookAtTable(first)
  else importFiles(files)
}

const matchesHere = (now: Stage): boolean => now === 'visits' || now === 'finds'

const carriesFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false

/** Lets files be dropped anywhere on the page; true while some are held over it. */
function useFileDrop(): boolean {
  const [over, setOver] = useState(false)
  useEffect(() => {
    let depth = 0
    const enter = (event: DragEvent): void => {
      if (!carriesFiles(event)) return
      depth += 1
      setOver(true)
    }
    const leave = (): void => {
      depth = Math.max(0, depth - 1)
      if (depth === 0) setOver(false)
    }
    const hold = (event: DragEvent): void => {
      if (carriesFiles(event)) event.preventDefault()
    }
    const drop = (event: DragEvent): void => {
      if (!carriesFiles(event)) return
      // A part of the page that takes files for itself has prevented the default already.
      const taken = event.defaultPrevented
      event.preventDefault()
      depth = 0
      setOver(false)
      if (!taken) takeDropped([...(event.dataTransfer?.files ?? [])])
    }
    const stop = new AbortController()
    const { signal } = stop
    window.addEventListener('dragenter', enter, { signal })
    window.addEventListener('dragleave', leave, { signal })
    window.addEventListener('dragover', hold, { signal })
    window.addEventListener('drop', drop, { signal })
    return () => stop.abort()
  }, [])
  return over
}

/** The whole page as a place to drop files, and the file field behind every files button. */
export function DropTarget() {
  const over = useFileDrop()
  const find = useStore(photographTarget)
  const matched = matchesHere(useStore(stage))
  return (
    <>
      <input
        id={fileInputId}
        type="file"
        multiple
        hidden
        aria-label="Files to add"
        data-testid="file-input"
        onChange={(event) => takeChosen(event.currentTarget)}
      />
      {over ? (
        <div className={classes.veil}>
          <div className={classes.card}>
            <p>Let go to add the files to this survey</p>
            {find ? <p>Pictures become photographs of {find.number}</p> : null}
            {matched && !find ? <p>Photographs are matched to finds by time and place</p> : null}
            <p className={classes.kinds}>
              Tracks, search areas and findspots, as GPX, KML, GeoJSON, CSV or shapefile; pictures, as TIFF,
              JPEG or PNG; terrain models, as GeoTIFF or ASCII grid
            </p>
          </div>
        </div>
      ) : null}
    </>
  )
}
