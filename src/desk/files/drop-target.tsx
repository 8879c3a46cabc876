import { useEffect, useState } from 'react'
import { fileInputId, takeChosen } from './choose-files.ts'
import classes from './drop-target.module.css'
import { importFiles } from './import-queue.ts'

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
      event.preventDefault()
      depth = 0
      setOver(false)
      importFiles([...(event.dataTransfer?.files ?? [])])
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
