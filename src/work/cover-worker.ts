import { deflateSync } from 'node:zlib'
import type { CoverFigures, GridFrame, Progress } from '#contract'
import {
  chooseCell,
  coverChance,
  coverFigures,
  type Gap,
  gapPolygons,
  gridOf,
  joinTallies,
  prepareCover,
} from '#core/cover'
import { planarGrid } from '#core/geodesy'
import { boundsOf, emptyBounds, joinBounds, type PlanarArea, type Polygon } from '#core/geometry'
import type { RecordedTrack } from '#core/record'
import { inWorker } from './in-worker.ts'
import { coverSharedTiles } from './shared-tiles.ts'
import { ostn15 } from './shift-grid.ts'
import type { TileInput } from './tile-worker.ts'
import { serve } from './worker-side.ts'

/** The fixes of a track as recorded, in WGS84 or in the grid of the area. */
export type CoverTrack = Pick<RecordedTrack, 'epsg' | 'xy' | 'segmentStart' | 'time'>

export interface CoverInput {
  readonly tracks: readonly CoverTrack[]
  /** In the planar grid that everything is worked in. */
  readonly area: PlanarArea
  readonly widthM: number
  /** Null lets the size of the area choose. */
  readonly cellM: number | null
  readonly maxJumpM: number
  readonly maxJumpS: number
  readonly minGapM2: number
  /** Asks for the expected share as well; null where no error and no sweep are known. */
  readonly chance: {
    readonly errorM: number
    readonly coilM: number | null
    readonly rateHz: number | null
  } | null
  /** Threads that share the tiles, this one among them. */
  readonly threads: number
}

export interface CoverOutcome {
  readonly frame: GridFrame
  readonly figures: CoverFigures
  readonly gaps: readonly Gap[]
  /** The polygons of `gaps`, in the same order, on WGS84. */
  readonly gapsOnWgs84: readonly Polygon[]
  /** Passes a cell, 255 outside the area; row 0 is the northernmost. Stands on shared memory. */
  readonly passes: Uint8Array
  /** The same, deflated. */
  readonly deflated: Uint8Array
}

/** Share of the whole work that each part takes, about: tiles, then gaps, then packing. */
const parts = { tiles: 0.6, gaps: 0.3 }

await serve<CoverInput, CoverOutcome>(cover)

async function cover(input: CoverInput, progress: Progress): Promise<CoverOutcome> {
  const started = performance.now()
  const { area, minGapM2, widthM, maxJumpM, maxJumpS } = input
  const { cellM } = chooseCell(
    area.polygons.flatMap(({ rings }) => rings.map(boundsOf)).reduce(joinBounds, emptyBounds),
    input.cellM,
  )
  const options = { widthM, cellM, maxJumpM, maxJumpS }
  progress(0, 'placing the fixes')
  const tracks = input.tracks.map((track) => planar(track, area.epsg))
  const plan = prepareCover(tracks, area, options)
  const passes = new Uint8Array(new SharedArrayBuffer(plan.rows * plan.columns))
  const shared: TileInput = { plan, passes, next: new Int32Array(new SharedArrayBuffer(4)) }
  const others = Array.from({ length: Math.min(input.threads, plan.tiles) - 1 }, () => tilesElsewhere(shared))
  const own = coverSharedTiles(plan, passes, shared.next, (done) =>
    progress(done * parts.tiles, 'working out the cover'),
  )
  const grid = gridOf(plan, passes, (await Promise.all(others)).reduce(joinTallies, own))
  const gaps = gapPolygons(grid, {
    minGapM2,
    progress: (done) => progress(parts.tiles + done * parts.gaps, 'drawing the gaps'),
  })
  const chance =
    input.chance &&
    coverChance(tracks, area, { ...options, ...input.chance }, (done, label) =>
      progress(parts.tiles + parts.gaps + (done * (1 - parts.tiles - parts.gaps)) / 2, label),
    )
  const figures = coverFigures({ plan, grid, gaps, minGapM2, ...(chance ? { chance } : {}) })
  const seconds = (performance.now() - started) / 1000
  progress(0.95, 'packing the cover')
  const { epsg, west, north, columns, rows } = grid
  return {
    frame: { epsg, west, north, cellM, columns, rows },
    figures: { ...figures, notes: [...figures.notes], seconds },
    gaps,
    gapsOnWgs84: gaps.map(({ polygon }) => onWgs84(polygon, epsg)),
    passes,
    deflated: deflateSync(passes, { level: 1 }),
  }
}

function tilesElsewhere(input: TileInput) {
  return inWorker<Awaited<ReturnType<typeof coverSharedTiles>>>(
    new URL('./tile-worker.ts', import.meta.url),
    input,
    {},
  )
}

function planar(track: CoverTrack, epsg: number): CoverTrack {
  if (track.epsg === epsg) return track
  const xy = new Float64Array(track.xy.length)
  planarGrid(epsg, ostn15()).forward(track.xy, xy)
  return { ...track, epsg, xy }
}

function onWgs84({ rings }: Polygon, epsg: number): Polygon {
  const grid = planarGrid(epsg, ostn15())
  return {
    rings: rings.map((ring) => {
      const lonLat = new Float64Array(ring.length)
      grid.inverse(ring, lonLat)
      return lonLat
    }),
  }
}
