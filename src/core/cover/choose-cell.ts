import { SurveyError } from '#core/faults'
import type { Bounds } from '#core/geometry'

/** Sides that are chosen from, metres; each is a whole multiple of a centimetre. */
export const cellSteps: readonly number[] = [0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 5, 10, 20, 25, 50]

/** Without a wish the finest step is taken whose grid stays at or below this: 120 megabytes, one byte a cell. */
export const comfortableCells = 120_000_000

/** No grid is made larger than this, whatever is wished for. */
export const mostCells = 400_000_000

/** A cell finer than this is refused: no fix is that good, and the lattice sums are proved down to it. */
export const finestCellM = 0.01

export interface ChosenCell {
  readonly cellM: number
  /** Cells of the grid over the bounds, those outside the area counted too. */
  readonly cells: number
}

/** Cells of the aligned grid over the bounds. */
export function cellsOver(bounds: Bounds, cellM: number): number {
  const columns = Math.max(1, Math.ceil(bounds.maxX / cellM) - Math.floor(bounds.minX / cellM))
  return columns * Math.max(1, Math.ceil(bounds.maxY / cellM) - Math.floor(bounds.minY / cellM))
}

/**
 * The side of a cover cell for an area with these bounds: the wish, where there is one and its grid can be held; else
 * the finest of `cellSteps` that is comfortable.
 *
 * Units   metres.
 * Faults  SurveyError('setting-out-of-range') for a wish below `finestCellM`; SurveyError('raster-too-large') for a wish
 *         whose grid has more than `mostCells`, with the finest step that fits, and for an area too wide for every step.
 */
export function chooseCell(bounds: Bounds, wanted: number | null): ChosenCell {
  if (wanted === null) {
    const cellM = finestStep(bounds, comfortableCells, 0)
    if (cellM === null) throw tooWide(bounds)
    return { cellM, cells: cellsOver(bounds, cellM) }
  }
  if (!(wanted >= finestCellM && Number.isFinite(wanted)))
    throw new SurveyError('setting-out-of-range', `A cell must be ${finestCellM} m or more, not ${wanted} m.`)
  const cells = cellsOver(bounds, wanted)
  if (cells <= mostCells) return { cellM: wanted, cells }
  const offer = finestStep(bounds, mostCells, wanted)
  if (offer === null) throw tooWide(bounds)
  throw new SurveyError(
    'raster-too-large',
    `Cells of ${wanted} m over this area (${inWords(bounds)}) would make ${millions(cells)} million cells; ` +
      `at most ${millions(mostCells)} million can be held. Use cells of ${offer} m or more, or a smaller area.`,
  )
}

/** The finest of `cellSteps` coarser than `above` whose grid has `most` cells or fewer; null where none has. */
export function finestStep(bounds: Bounds, most: number, above: number): number | null {
  return cellSteps.find((step) => step > above && cellsOver(bounds, step) <= most) ?? null
}

const millions = (cells: number): string => String(Math.round(cells / 1e6)).replace(/\B(?=(\d{3})+$)/g, ' ')

const km = (length: number): string => String(Math.round(length / 10) / 100)

function inWords({ minX, minY, maxX, maxY }: Bounds): string {
  return `${km(maxX - minX)} km by ${km(maxY - minY)} km from edge to edge`
}

function tooWide(bounds: Bounds): SurveyError {
  return new SurveyError(
    'raster-too-large',
    `The area (${inWords(bounds)}) is too wide for any cell up to ${cellSteps.at(-1)} m: ` +
      `at most ${millions(mostCells)} million cells can be held. Work on a smaller area.`,
  )
}
