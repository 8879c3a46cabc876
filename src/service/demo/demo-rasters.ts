import { writeGeoTiff } from '#formats/geotiff'
import type { DemoFile } from './demo-files.ts'
import { pictureBytes, pictureFrame } from './picture.ts'
import { survey } from './scenario.ts'
import { dryYear, wetYear } from './season.ts'
import { terrainFrame, terrainHeights } from './terrain.ts'

/** A picture or a terrain model of the demo, as a file, and the day it was made. */
export interface DemoRaster extends DemoFile {
  readonly kind: 'image' | 'terrain'
  /** 2022-07-14 */
  readonly takenOn: string
}

const terrainDay = '2023-02-07'

/**
 * What the demo survey has of the ground from above: a 1 m terrain model in 32-bit floats, and pictures of a dry and a wet summer, 0.25 m, red, green and
 * blue in bytes. Plain GeoTIFF in EPSG:27700, uncompressed so that the bytes depend on the seed alone: 0.3 MB and twice 2.3 MB.
 * Cost: about two seconds.
 *
 * Faults  RangeError for a seed that is not a whole number from 0 to 2^32 - 1.
 */
export function demoRasters(seed: number): DemoRaster[] {
  const { epsg } = survey
  const heights = writeGeoTiff({
    ...{ ...terrainFrame, epsg },
    cells: terrainHeights(streamOf(seed, 1)),
    noData: Number.NaN,
  })
  return [
    { name: `ninestile-terrain-1m-${terrainDay}.tif`, bytes: heights, kind: 'terrain', takenOn: terrainDay },
    ...[dryYear, wetYear].map((season, i): DemoRaster => {
      const cells = pictureBytes(season, streamOf(seed, 2 + i))
      const bytes = writeGeoTiff({ ...pictureFrame, epsg, cells, samples: 3 })
      return { name: `ninestile-air-${season.takenOn}.tif`, bytes, kind: 'image', takenOn: season.takenOn }
    }),
  ]
}

/** A seed of its own for each raster, so that a change of one leaves the others. */
function streamOf(seed: number, stream: number): number {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffff_ffff)
    throw new RangeError(`a seed is a whole number from 0 to 4294967295, got ${seed}`)
  return (seed + Math.imul(stream, 0x1f12_3bb5)) >>> 0
}
