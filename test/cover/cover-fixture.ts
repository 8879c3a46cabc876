import { readFileSync } from 'node:fs'
import type { PlanarArea } from '#core/geometry'
import type { PlanarTrack } from '#core/track'

/** What shapely says of a case: see fixtures/cover/SOURCE.md. */
export interface ExpectedCover {
  readonly widthM: number
  readonly maxJumpM: number
  readonly maxJumpS: number
  readonly areaM2: number
  readonly coveredM2: number
  readonly coveredShare: number
  readonly meanPasses: number
  readonly gapsM2: number
  readonly largestGapM2: number
  readonly gapsOver4M2: readonly number[]
  readonly distanceM: number
  readonly walkingS: number
}

export const coverCases = ['field-with-holes', 'two-closes-broken-walk', 'sharp-turns'] as const

/** Reads a case of fixtures/cover. */
export function coverFixture(name: (typeof coverCases)[number]): {
  track: PlanarTrack
  area: PlanarArea
  expected: ExpectedCover
} {
  const read = (file: string): string =>
    readFileSync(new URL(`../../fixtures/cover/${name}/${file}`, import.meta.url), 'utf8')
  const fixes = read('track.csv')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(',').map(Number))
  const segment = fixes.map((fix) => fix[3]!)
  const drawn = JSON.parse(read('area.json')) as { epsg: number; polygons: [number, number][][][] }
  return {
    track: {
      epsg: 27700,
      xy: Float64Array.from(fixes.flatMap(([x, y]) => [x!, y!])),
      segmentStart: Uint32Array.from(
        segment.flatMap((value, i) => (i === 0 || value !== segment[i - 1] ? [i] : [])),
      ),
      time: Float64Array.from(fixes, (fix) => fix[2]!),
    },
    area: {
      epsg: drawn.epsg,
      polygons: drawn.polygons.map((rings) => ({
        rings: rings.map((ring) => Float64Array.from(ring.flat())),
      })),
    },
    expected: JSON.parse(read('expected.json')) as ExpectedCover,
  }
}
