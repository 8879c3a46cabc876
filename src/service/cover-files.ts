import path from 'node:path'
import type { CoverFigures } from '#contract'
import { outsideArea } from '#core/cover'
import { type FileFault, SurveyError } from '#core/faults'
import { planarGrid } from '#core/geodesy'
import type { FileContent, RecordedTrack } from '#core/record'
import { writeGeoJson } from '#formats/geojson'
import { writeGeoTiff } from '#formats/geotiff'
import {
  type CoverInput,
  type CoverOutcome,
  coverInThreads,
  ostn15,
  readFileInThread,
  type WorkOptions,
} from '#work'
import { groundOf } from './area-of-file.ts'
import { writeOut } from './export.ts'
import { gapAreas } from './export-content.ts'

/** Files and settings of `lynchet cover`. Metres, seconds, square metres. */
export interface CoverWishes {
  readonly tracks: readonly string[]
  readonly area: string
  readonly width: number
  readonly cell?: number
  readonly maxJump: number
  readonly maxTime: number
  readonly minGap: number
  /** Standard deviation of the position to the side. */
  readonly error?: number
  /** Length of ground the coil senses along the walk, with `rate`, sweeps a second. */
  readonly coil?: number
  readonly rate?: number
  /** File for the passes as a GeoTIFF. */
  readonly out?: string
  /** File for the gaps as GeoJSON. */
  readonly gaps?: string
}

export interface CoverOfFiles {
  readonly figures: CoverFigures
  readonly faults: readonly (FileFault & { readonly file: string })[]
}

/**
 * The cover of the area in one file by the tracks in others, worked in the grid of the place; no survey is needed.
 * Faults: those of reading the files and of the cover; SurveyError 'no-area', 'no-track' with the file's name.
 */
export async function coverOfFiles(wishes: CoverWishes, options: WorkOptions = {}): Promise<CoverOfFiles> {
  const read = async (file: string) => ({
    file,
    ...(await readFileInThread(path.basename(file), file, options)),
  })
  const areaFile = await read(wishes.area)
  const trackFiles: Awaited<ReturnType<typeof read>>[] = []
  for (const file of wishes.tracks) trackFiles.push(await read(file))
  const { width: widthM, maxJump: maxJumpM, maxTime: maxJumpS, minGap: minGapM2, cell } = wishes
  const outcome = await coverInThreads(
    {
      tracks: trackFiles.flatMap(({ file, content }) => walkedTracks(file, content)),
      area: groundOf(wishes.area, areaFile.content),
      widthM,
      cellM: cell ?? null,
      maxJumpM,
      maxJumpS,
      minGapM2,
      chance: chanceOf(wishes),
    },
    options,
  )
  writeOutcome(outcome, wishes)
  const faults = [areaFile, ...trackFiles].flatMap(({ file, content }) =>
    content.faults.map((fault) => ({ ...fault, file: path.basename(file) })),
  )
  return { figures: outcome.figures, faults }
}

function walkedTracks(file: string, { tracks }: FileContent): RecordedTrack[] {
  const walked = tracks.filter((track) => track.walked)
  if (walked.length === 0) throw new SurveyError('no-track', `${file} holds no walked track.`)
  return walked.map((track) => (track.epsg === 4326 ? track : onWgs84(track)))
}

function onWgs84(track: RecordedTrack): RecordedTrack {
  const xy = new Float64Array(track.xy.length)
  planarGrid(track.epsg, ostn15()).inverse(track.xy, xy)
  return { ...track, epsg: 4326, xy }
}

/** The expected share is worked out where the error or the sweep is told; an error that is not told is taken as none. */
function chanceOf({ error, coil, rate }: CoverWishes): CoverInput['chance'] {
  if (error === undefined && coil === undefined) return null
  return { errorM: error ?? 0, coilM: coil ?? null, rateHz: rate ?? null }
}

function writeOutcome(outcome: CoverOutcome, { gaps, out }: CoverWishes): void {
  if (gaps !== undefined) {
    const found = outcome.gaps.map(({ areaM2 }, i) => ({ areaM2, polygon: outcome.gapsOnWgs84[i]! }))
    writeOut(gaps, writeGeoJson({ areas: gapAreas(found), tracks: [], findspots: [] }))
  }
  if (out !== undefined) {
    writeOut(out, writeGeoTiff({ ...outcome.frame, cells: outcome.passes, noData: outsideArea }))
  }
}
