import { SurveyError } from '#core/faults'
import { type Polygon, ringMeetings, ringOfArea, simplifyRing } from '#core/geometry'
import type { CoverGrid, CoverProgress } from './cover-grid.ts'
import { type Outline, OutlineTracer } from './gap-outline.ts'
import { type GapRuns, gapRuns } from './gap-runs.ts'

/** Ground inside the search area that no swath reached, in one piece. */
export interface Gap {
  /** Area of its cells, square metres. */
  readonly areaM2: number
  /** Outline and holes, closed, in the grid's metres; its area is that of the cells. */
  readonly polygon: Polygon
}

export interface GapOptions {
  /** Gaps smaller than this, square metres, are left out; 0 keeps all. */
  readonly minGapM2: number
  readonly progress?: CoverProgress
  readonly stop?: () => boolean
}

/**
 * How far an outline may stray from the marching squares, in cells, tried one after another until the polygon does not
 * meet itself; the last keeps every vertex, and that one never does.
 */
const tolerances = [0.75, 0.35, 0] as const
/** How far the edges may move to give a ring the area of its cells, in cells. */
const mostShift = 0.35

/**
 * The gaps of a cover as polygons, largest first: cells of the area with no pass, joined where they meet at a side or a
 * corner.
 *
 * Method  runs and union-find (gap-runs.ts); outlines by marching squares (gap-outline.ts), thinned within three quarters of
 *         a cell, their edges then moved so that each ring encloses the area of its cells.
 * Cost    linear in cells and in the length of outlines; some 12 bytes a run of cells and a bit a cell.
 * Source  docs/methods/cover.md#gaps
 * Faults  SurveyError('setting-out-of-range') for a negative least area; SurveyError('cancelled').
 */
export function gapPolygons(grid: CoverGrid, { minGapM2, progress, stop }: GapOptions): Gap[] {
  if (!(minGapM2 >= 0))
    throw new SurveyError(
      'setting-out-of-range',
      `The smallest gap listed must be 0 m2 or more, not ${minGapM2}.`,
    )
  const half = (part: number): CoverProgress | undefined =>
    progress && ((done, label) => progress((part + done) / 2, label))
  const runs = gapRuns(grid, half(0), stop)
  const cellM2 = grid.cellM * grid.cellM
  // A gap of just the least area stays, whatever the last bits say.
  const outlines = traceOutlines(grid, runs, minGapM2 / cellM2 - 1e-6, half(1), stop)
  const gaps: Gap[] = []
  for (const [gap, rings] of outlines)
    gaps.push({ areaM2: runs.cells[gap]! * cellM2, polygon: polygonOf(rings, grid) })
  progress?.(1, 'drawing gaps')
  return gaps.sort((a, b) => b.areaM2 - a.areaM2)
}

/** The outlines of each gap of `least` cells or more, the outer one first. */
function traceOutlines(
  grid: CoverGrid,
  { rowStart, from, gap, cells }: GapRuns,
  least: number,
  progress?: CoverProgress,
  stop?: () => boolean,
): Map<number, Outline[]> {
  const tracer = new OutlineTracer(grid)
  const outlines = new Map<number, Outline[]>()
  for (let r = 0; r < grid.rows; r++) {
    if (r % 256 === 0) {
      if (stop?.())
        throw new SurveyError('cancelled', 'The search for gaps was cancelled; nothing was changed.')
      progress?.(r / grid.rows, 'drawing gaps')
    }
    for (let i = rowStart[r]!; i < rowStart[r + 1]!; i++) {
      // The first run of a gap lies on its outer outline; every hole has a run of the gap on its east side.
      if (cells[gap[i]!]! < least || tracer.hasWalked(r, from[i]!)) continue
      const outline = tracer.follow(r, from[i]!)
      const rings = outlines.get(gap[i]!)
      if (rings === undefined) outlines.set(gap[i]!, [outline])
      else rings.push(outline)
    }
  }
  return outlines
}

/** Half cells from the north-west corner to a closed ring in the grid's metres. */
function ringInMetres(ring: Float64Array, { west, north, cellM }: CoverGrid): Float64Array {
  const closed = new Float64Array(ring.length + 2)
  for (let i = 0; i < ring.length; i += 2) {
    closed[i] = west + (ring[i]! / 2) * cellM
    closed[i + 1] = north - (ring[i + 1]! / 2) * cellM
  }
  closed.copyWithin(ring.length, 0, 2)
  return closed
}

function polygonOf(outlines: readonly Outline[], grid: CoverGrid): Polygon {
  for (const tolerance of tolerances) {
    const rings = outlines.map((outline) => thinnedRing(outline, tolerance))
    if (tolerance === 0) return { rings: rings.map((ring) => ringInMetres(ring!, grid)) }
    if (rings.includes(null)) continue
    const polygon = { rings: rings.map((ring) => ringInMetres(ring!, grid)) }
    if (ringMeetings(polygon.rings, 1).length === 0) return polygon
  }
  throw new RangeError('the last tolerance is not 0')
}

/** One outline in half cells, thinned and given the area of its cells; null where that cannot be had. */
function thinnedRing({ vertices, cells }: Outline, tolerance: number): Float64Array | null {
  const ring = simplifyRing(vertices, 2 * tolerance)
  if (tolerance === 0) return ring
  if (ring.length < 6) return null
  return ringOfArea(ring, 4 * Math.abs(cells), 2 * mostShift)
}
