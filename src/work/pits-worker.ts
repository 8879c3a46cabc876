import { closeSync, openSync } from 'node:fs'
import type { Progress } from '#contract'
import { findPits, type PitCandidate, type RingSettings } from '#core/marks'
import { blockLevelsSource } from './block-levels-source.ts'
import { serve } from './worker-side.ts'

export interface PitsInput {
  /** A file of blocks, NaN for no data. */
  readonly blocks: string
  readonly columns: number
  readonly rows: number
  readonly settings: RingSettings
}

export interface FoundPits {
  /** Best first. */
  readonly candidates: readonly PitCandidate[]
  /** True where the raster is flat or without data, so that there is nothing to look for. */
  readonly flat: boolean
}

await serve<PitsInput, FoundPits>(pitsOf)

function pitsOf({ blocks, columns, rows, settings }: PitsInput, progress: Progress): FoundPits {
  const fd = openSync(blocks, 'r')
  try {
    progress(0, 'looking for pits')
    const raster = blockLevelsSource(fd, columns, rows).read(0, { left: 0, top: 0, columns, rows })
    const known = raster.values.find((value) => !Number.isNaN(value))
    const flat = raster.values.every((value) => Number.isNaN(value) || value === known)
    return { candidates: flat ? [] : findPits(raster, settings), flat }
  } finally {
    closeSync(fd)
  }
}
