import type { LayerView } from '#contract'
import type { PictureLevel, Window } from '#work'
import type { PaintedPiece } from './warp-tile.ts'

/** Something that can be looked at in pieces, at any of its scales: the finest level first. */
export interface ViewSource {
  /** Of the whole, in pixels of its finest detail. */
  readonly columns: number
  readonly rows: number
  readonly levels: readonly PictureLevel[]
  /** False while the finest level is still a reduced one. */
  readonly whole: boolean
  /** Waits until a view can be painted: statistics of the whole, pictures worked out beforehand. Faults as `paint`. */
  prepare(view: LayerView): Promise<void>
  /** Paints a window that lies within a level. Faults: SurveyError; RangeError for a view that this cannot have. */
  paint(level: number, window: Window, view: LayerView): Promise<PaintedPiece>
}

/**
 * The level for tiles of which a pixel spans so many pixels of the whole: the coarsest whose pixels are at most 1.41 times as large (a little
 * blur); then at most 1.41 of them fall on one (a little flicker).
 */
export function levelFor({ levels }: Pick<ViewSource, 'levels'>, step: number): number {
  let best = 0
  for (const [i, { scaleX, scaleY }] of levels.entries()) {
    if (Math.sqrt(scaleX * scaleY) <= Math.max(1, step) * Math.SQRT2) best = i
  }
  return best
}

/** Most pixels of a level that the statistics of a view are taken from. */
const overviewPixels = 1_200_000

/** The finest level that is small enough to take statistics from. */
export function overviewLevel({ levels }: Pick<ViewSource, 'levels'>): number {
  const found = levels.findIndex(({ columns, rows }) => columns * rows <= overviewPixels)
  return found < 0 ? levels.length - 1 : found
}
