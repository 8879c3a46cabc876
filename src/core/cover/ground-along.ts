import { areaBounds, type PlanarArea, type Polygon } from '#core/geometry'
import { cellSteps, cellsOver, chooseCell } from './choose-cell.ts'
import { coverGrid, outsideArea } from './cover-grid.ts'
import { gapPolygons } from './gap-polygons.ts'

/** Lines that abut leave no slit between them where they lie a centimetre too far apart: the strip is wider by this share. */
const widerBy = 0.04
/** Cells across the strip, where the grid is not too large for that. */
const cellsAcross = 8
const mostCells = 40_000_000

/**
 * The ground of an area that lies within half of `widthM` of some lines, as polygons, the largest first.
 *
 * Units   metres; lines as interleaved pairs in the grid of the area.
 * Method  the swath along the lines on cells, outlined as gaps are: the polygons of lines side by side are one.
 * Cost    that of a cover over the area's bounds, on cells of about an eighth of the width.
 * Faults  those of `coverGrid`.
 */
export function groundAlong(lines: readonly Float64Array[], area: PlanarArea, widthM: number): Polygon[] {
  if (lines.every((xy) => xy.length === 0)) return []
  const bounds = areaBounds(area)
  const cellM =
    cellSteps.find((step) => step >= widthM / cellsAcross && cellsOver(bounds, step) <= mostCells) ??
    chooseCell(bounds, null).cellM
  const tracks = lines.map((xy) => ({
    epsg: area.epsg,
    xy,
    time: null,
    segmentStart: Uint32Array.from(xy.length > 0 ? [0] : []),
  }))
  const grid = coverGrid(tracks, area, {
    widthM: widthM * (1 + widerBy),
    cellM,
    maxJumpM: Number.MAX_VALUE,
    maxJumpS: Number.MAX_VALUE,
  })
  // What is to be outlined is the ground reached, so reached and not reached change places.
  const passes = grid.passes.map((count) => (count === outsideArea ? outsideArea : count > 0 ? 0 : 1))
  return gapPolygons({ ...grid, passes }, { minGapM2: cellM * cellM }).map(({ polygon }) => polygon)
}
