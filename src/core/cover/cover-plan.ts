import { SurveyError } from '#core/faults'
import { areaBounds, type PlanarArea } from '#core/geometry'
import { alignedFrame, type LatticeFrame } from '#core/raster'
import {
  type JumpLimits,
  type PlanarTrack,
  type SweptLegs,
  sweptLegs,
  type WalkAccount,
  walkAccount,
} from '#core/track'
import { type AreaRows, areaRows } from './area-rows.ts'
import { chooseCell } from './choose-cell.ts'
import { type PlacedFixes, placeFixes } from './place-fixes.ts'
import { soundArea } from './sound-area.ts'

export interface CoverOptions extends JumpLimits {
  /** Full width of the swath, metres. */
  readonly widthM: number
  /** Side of a cell, metres, as `chooseCell` gave it. */
  readonly cellM: number
}

/**
 * All that is needed to work the cover out, ready to be shared out by tiles: plain fields over shared memory, so it can be
 * posted to threads. A tile is a band of `tileRows` rows, counted from the north.
 */
export interface CoverPlan extends LatticeFrame {
  readonly options: CoverOptions
  readonly fixes: PlacedFixes
  readonly area: AreaRows
  /** Area of the polygons by the shoelace sum, square metres; that of its cells where the outline is not sound. */
  readonly areaM2: number
  /** What is not sound in the outline, one sentence each. */
  readonly areaNotes: readonly string[]
  readonly walk: WalkAccount
  readonly tiles: number
  readonly tileRows: number
}

/** Rows a tile: enough tiles that threads end together, few enough that a leg seldom meets two. */
const tilesWanted = 64
const leastTileRows = 32
const mostTileRows = 256

/**
 * Places tracks and area on a lattice of cells.
 *
 * CRS     all in one planar grid, metres.
 * Cost    time linear in fixes and in rows crossed by the area's edges; 25 bytes a fix.
 * Faults  SurveyError: 'no-area', 'area-invalid', 'no-track', 'mixed-grids', 'setting-out-of-range', 'raster-too-large'.
 */
export function prepareCover(
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  options: CoverOptions,
): CoverPlan {
  const { widthM, cellM } = options
  if (!(widthM > 0 && Number.isFinite(widthM)))
    throw new SurveyError('setting-out-of-range', `The swath must be wider than 0 m, not ${widthM} m.`)
  checkInput(tracks, area)
  chooseCell(areaBounds(area), cellM)
  const legs = tracks.map((track) => sweptLegs(track, options))
  return planOf({ tracks, legs, walk: walkAccount(tracks, legs, options) }, area, options)
}

/** Tracks with the legs that are swept, and what they add up to. */
export interface WalkedLegs {
  readonly tracks: readonly PlanarTrack[]
  readonly legs: readonly Pick<SweptLegs, 'kind'>[]
  readonly walk: WalkAccount
}

/** The plan for legs already found, where `options.widthM` is how far they reach. Faults: 'area-invalid', 'setting-out-of-range'. */
export function planOf(
  { tracks, legs, walk }: WalkedLegs,
  area: PlanarArea,
  options: CoverOptions,
): CoverPlan {
  const { widthM, cellM, maxJumpM, maxJumpS } = options
  const frame = alignedFrame(areaBounds(area), cellM, area.epsg)
  const rows = areaRows(area, frame)
  const tileRows = Math.min(mostTileRows, Math.max(leastTileRows, Math.ceil(frame.rows / tilesWanted)))
  return {
    ...frame,
    options: { widthM, cellM, maxJumpM, maxJumpS },
    fixes: placeFixes(tracks, legs, frame, widthM / 2 / cellM),
    area: rows,
    ...soundArea(area, rows, cellM),
    walk,
    tiles: Math.ceil(frame.rows / tileRows),
    tileRows,
  }
}

/** Faults: SurveyError 'no-area', 'area-invalid', 'no-track', 'mixed-grids'. */
export function checkInput(tracks: readonly PlanarTrack[], area: PlanarArea): void {
  const outlines = area.polygons.flatMap((polygon) => polygon.rings)
  if (outlines.length === 0)
    throw new SurveyError('no-area', 'There is no search area. Draw one, or bring one in.')
  const broken = outlines.find((ring) => ring.some((value) => !Number.isFinite(value)))
  if (broken !== undefined)
    throw new SurveyError('area-invalid', 'The search area has a corner without a place. Mend or redraw it.')
  if (tracks.every((track) => track.xy.length === 0))
    throw new SurveyError('no-track', 'There is no walked track. Bring one in to see what it covered.')
  const stray = tracks.find((track) => track.epsg !== area.epsg)
  if (stray !== undefined)
    throw new SurveyError(
      'mixed-grids',
      `A track is in grid EPSG:${stray.epsg}, the search area in EPSG:${area.epsg}; both must be in one grid.`,
    )
}
