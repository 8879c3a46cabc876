import { writeGeoTiff } from '#formats/geotiff'
import type { DemoFile } from './demo-files.ts'
import { pictureBytes, pictureFrame } from './picture.ts'
import { survey } from './scenario.ts'
import { dryYear, wetYear } from './season.ts'
import { terrainFrame, terrainHeights } from './terrain.ts'

/** A picture or a terrain model of the demo, as a file, with a name for the list of layers and the day it was made. */
export interface DemoRaster extends DemoFile {
  readonly title: string
  readonly kind: 'image' | 'terrain'
  /** 2022-07-14 */
  readonly takenOn: string
}

const terrainDay = '2023-02-07'

/** How many there are. */
export const demoRasterCount = 3

/**
 * One of what the demo survey has of the ground from above: 0 a 1 m terrain model in 32-bit floats, 1 and 2 pictures of a dry and a wet summer, 0.25 m, red, green
 * and blue in bytes. Plain GeoTIFF in EPSG:27700, uncompressed so that the bytes depend on the seed alone: 0.3 MB and twice 2.3 MB.
 * Cost: about a second each for the pictures.
 *
 * Faults  RangeError for a seed that is not a whole number from 0 to 2^32 - 1, or another number of raster.
 */
export function demoRaster(seed: number, which: number): DemoRaster {
  const { epsg } = survey
  if (which === 0) {
    const cells = terrainHeights(streamOf(seed, 1))
    const bytes = writeGeoTiff({ ...terrainFrame, epsg, cells, noData: Number.NaN })
    const name = `ninestile-terrain-1m-${terrainDay}.tif`
    return { name, bytes, kind: 'terrain', takenOn: terrainDay, title: 'Terrain model, 1 m' }
  }
  const season = [dryYear, wetYear][which - 1]
  if (!season) throw new RangeError(`the demo has rasters 0 to ${demoRasterCount - 1}, not ${which}`)
  const { takenOn } = season
  const cells = pictureBytes(season, streamOf(seed, 1 + which))
  const bytes = writeGeoTiff({ ...pictureFrame, epsg, cells, samples: 3 })
  const title = `From the air, ${season === dryYear ? 'dry' : 'wet'} summer ${takenOn.slice(0, 4)}`
  return { name: `ninestile-air-${takenOn}.tif`, bytes, kind: 'image', takenOn, title }
}

/** A seed of its own for each raster, so that a change of one leaves the others. */
function streamOf(seed: number, stream: number): number {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffff_ffff)
    throw new RangeError(`a seed is a whole number from 0 to 4294967295, got ${seed}`)
  return (seed + Math.imul(stream, 0x1f12_3bb5)) >>> 0
}
