import path from 'node:path'
import type { CoverFigures } from '#contract'
import { outsideArea } from '#core/cover'
import { type FileFault, SurveyError } from '#core/faults'
import { type PlanarGrid, planarGrid } from '#core/geodesy'
import type { FileContent, RecordedTrack } from '#core/record'
import { defaultCleanSettings } from '#core/track'
import { writeGeoJson } from '#formats/geojson'
import { writeGeoTiff } from '#formats/geotiff'
import {
  type CoverInput,
  type CoverOutcome,
  coverInThreads,
  lanesWalkedInThread,
  ostn15,
  readFileInThread,
  type WorkOptions,
} from '#work'
import { groundOf, leftOutOf } from './area-of-file.ts'
import { writeOut } from './export.ts'
import { gapAreas } from './export-content.ts'
import { projected } from './projecting.ts'

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
  /** The instrument's own chance, above 0 up to 1. */
  readonly ownChance?: number
  /** Cleans the tracks first. */
  readonly clean?: boolean
  /** Leaves out what looks driven. */
  readonly cutDrives?: boolean
  /** Walks to simulate, and the seed and memory in seconds of their errors. */
  readonly simulations?: number
  readonly seed: number
  readonly memory: number
  /** Gaps are the ground below this chance, instead of that with no pass. */
  readonly gapChance?: number
  /** File with planned lanes, to tell which of them were walked; and how near to a lane a track must run. */
  readonly lanes?: string
  readonly tolerance?: number
  /** File for the chances as a GeoTIFF of floats. */
  readonly chances?: string
  /** File for the passes as a GeoTIFF. */
  readonly out?: string
  /** File for the gaps as GeoJSON. */
  readonly gaps?: string
}

/** How the lanes of a file were walked. Lengths in metres; the names of those missed or walked in part. */
interface LaneFiguresOfFile {
  readonly walked: number
  readonly part: number
  readonly skipped: number
  readonly plannedM: number
  readonly walkedM: number
  /** Median distance of fixes on lanes from them. */
  readonly offM: number | null
  readonly toleranceM: number
  readonly strayings: { readonly count: number; readonly metres: number }
  readonly missed: readonly string[]
}

export interface CoverOfFiles {
  readonly figures: CoverFigures & { readonly lanes: LaneFiguresOfFile | null }
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
  const laneFile = wishes.lanes === undefined ? null : await read(wishes.lanes)
  const { width: widthM, maxJump: maxJumpM, maxTime: maxJumpS, minGap: minGapM2, cell } = wishes
  const { simulations } = wishes
  const tracks = trackFiles.flatMap(({ file, content }) => walkedTracks(file, content))
  const area = await groundOf(wishes.area, areaFile.content)
  const outcome = await coverInThreads(
    {
      tracks,
      area,
      widthM,
      cellM: cell ?? null,
      maxJumpM,
      maxJumpS,
      minGapM2,
      chance: chanceOf(wishes),
      clean: wishes.clean ? defaultCleanSettings : null,
      cutDrives: wishes.cutDrives ?? false,
      gapChance: wishes.gapChance ?? null,
      spread: simulations === undefined ? null : { simulations, seed: wishes.seed, memoryS: wishes.memory },
    },
    options,
  )
  writeOutcome(outcome, wishes)
  const lanes = laneFile && (await lanesOfFile(laneFile, tracks, area.epsg, wishes, options))
  const files = [areaFile, ...trackFiles, ...(laneFile ? [laneFile] : [])]
  const faults = files.flatMap(({ file, content }) =>
    content.faults.map((fault) => ({ ...fault, file: path.basename(file) })),
  )
  const notes = [...leftOutOf(areaFile.content), ...outcome.figures.notes]
  return { figures: { ...outcome.figures, notes, lanes }, faults }
}

const placeKey = (x: number, y: number): string => `${x.toFixed(1)} ${y.toFixed(1)}`

/** Each segment of each line is a lane; the same lane twice is one, and a walk over several of them, as a handheld's file has it, is none. */
function lanesIn(file: string, { tracks }: FileContent, grid: PlanarGrid) {
  const lanes = new Map<string, { readonly name: string; readonly xy: Float64Array }>()
  for (const track of tracks) {
    const planar = projected((track.epsg === 4326 ? track : onWgs84(track)).xy, grid.forward)
    const several = track.segmentStart.length > 1
    for (const [s, from] of track.segmentStart.entries()) {
      const xy = planar.slice(2 * from, 2 * (track.segmentStart[s + 1] ?? planar.length / 2))
      const ends = `${placeKey(xy[0]!, xy[1]!)} ${placeKey(xy.at(-2)!, xy.at(-1)!)}`
      const name = track.name ?? 'Lane'
      if (xy.length >= 4 && !lanes.has(ends))
        lanes.set(ends, { name: several ? `${name}, ${s + 1}` : name, xy })
    }
  }
  const starts = new Set([...lanes.values()].map(({ xy }) => placeKey(xy[0]!, xy[1]!)))
  const single = [...lanes.values()].filter(({ xy }) => {
    let others = 0
    for (let i = 2; i < xy.length; i += 2) if (starts.has(placeKey(xy[i]!, xy[i + 1]!))) others++
    return others < 2
  })
  if (single.length > 0) return single
  throw new SurveyError('no-track', `${file} holds no line, so there are no lanes to set the walk against.`)
}

async function lanesOfFile(
  { file, content }: { readonly file: string; readonly content: FileContent },
  tracks: readonly RecordedTrack[],
  epsg: number,
  { error, tolerance, cutDrives = false }: CoverWishes,
  options: WorkOptions,
): Promise<LaneFiguresOfFile> {
  const grid = planarGrid(epsg, ostn15())
  const lanes = lanesIn(file, content, grid)
  const clean = { ...defaultCleanSettings, ...(error === undefined ? {} : { errorM: error }) }
  const found = await lanesWalkedInThread(
    {
      tracks: tracks.map(({ xy, segmentStart, time, hdop }) => ({
        track: { epsg, xy: projected(xy, grid.forward), segmentStart, time, hdop },
        clean,
        cutDrives,
      })),
      lanes: lanes.map(({ xy }) => xy),
      spacingM: null,
      toleranceM: tolerance ?? null,
    },
    options,
  )
  const count = (state: string): number => found.lanes.filter((lane) => lane.state === state).length
  const { plannedM, walkedM, offM, toleranceM, strayings } = found
  return {
    walked: count('walked'),
    part: count('part'),
    skipped: count('skipped'),
    plannedM,
    walkedM,
    offM,
    toleranceM,
    strayings: { count: strayings.length, metres: strayings.reduce((sum, { metres }) => sum + metres, 0) },
    missed: found.lanes.filter(({ state }) => state !== 'walked').map(({ lane }) => lanes[lane]!.name),
  }
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
function chanceOf({ error, coil, rate, ownChance = 1 }: CoverWishes): CoverInput['chance'] {
  if (error === undefined && coil === undefined) return null
  return { errorM: error ?? 0, coilM: coil ?? null, rateHz: rate ?? null, ownChance }
}

function writeOutcome(outcome: CoverOutcome, { gaps, out, chances }: CoverWishes): void {
  if (gaps !== undefined) {
    const drawn = outcome.chance?.gaps ?? outcome.gaps
    const onWgs84 = outcome.chance?.gapsOnWgs84 ?? outcome.gapsOnWgs84
    const found = drawn.map(({ areaM2 }, i) => ({ areaM2, polygon: onWgs84[i]! }))
    writeOut(gaps, writeGeoJson({ areas: gapAreas(found), tracks: [], findspots: [] }))
  }
  if (out !== undefined) {
    writeOut(out, writeGeoTiff({ ...outcome.frame, cells: outcome.passes, noData: outsideArea }))
  }
  if (chances !== undefined && outcome.chance !== null) {
    const { frame, chance } = outcome.chance
    writeOut(chances, writeGeoTiff({ ...frame, cells: chance, noData: Number.NaN }))
  }
}
