import path from 'node:path'
import type { BearingFrom, ExportFormat, LaneFigures, LaneLight, LaneWishesGiven } from '#contract'
import { type FileFault, SurveyError } from '#core/faults'
import { type PlanarGrid, planarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import type { LanePlan, LaneShare, NameLimits } from '#core/lanes'
import type { RecordedTrack } from '#core/record'
import { writeGpx } from '#formats/gpx'
import { ostn15, readFileInThread } from '#work'
import { groundOf, leftOutOf } from './area-of-file.ts'
import { bearingOfLine, bearingOfRaster } from './bearing-of-files.ts'
import { writeOut } from './export.ts'
import { cornersOf, laneNames, onEarth, walkNames } from './lane-lines.ts'
import { lanesOf, lightOn } from './lanes.ts'
import { textOf } from './text-of.ts'

/** Files and settings of `lynchet lanes`. */
export interface LaneFilesWishes extends Omit<LaneWishesGiven, 'bearing'> {
  readonly area: string
  readonly bearing?: number | undefined
  /** File with a line whose bearing the lanes take. */
  readonly along?: string | undefined
  /** Raster file whose plough lines they follow, or terrain model whose contour they follow. */
  readonly plough?: string | undefined
  readonly contour?: string | undefined
  /** Day on which they are to be walked, YYYY-MM-DD. */
  readonly day?: string
  readonly out?: string
  readonly names: NameLimits
}

export interface LanesOfFiles {
  readonly figures: LaneFigures & {
    readonly seconds: number
    readonly light: LaneLight | null
    readonly bearingFrom: BearingFrom
  }
  readonly faults: readonly (FileFault & { readonly file: string })[]
}

const formats: Readonly<Record<string, ExportFormat>> = {
  '.gpx': 'gpx',
  '.kml': 'kml',
  '.geojson': 'geojson',
  '.json': 'geojson',
  '.csv': 'csv',
}

/** The format of a file of lanes by the ending of its name; null where it is none. */
export function laneFormat(file: string): ExportFormat | null {
  return formats[path.extname(file).toLowerCase()] ?? null
}

/**
 * Lanes of the area in a file, worked in the grid of the place; no survey is needed. `seconds` is the time of the sum without reading
 * and writing.
 * Faults: those of reading the files and of `lanesOf`; SurveyError 'no-area', 'no-track', 'bad-value' (also for a raster without a clear direction), 'unknown-kind',
 * 'cannot-write'.
 */
export async function lanesOfFiles({
  area: file,
  day,
  out,
  names,
  bearing,
  along,
  plough,
  contour,
  ...wishes
}: LaneFilesWishes): Promise<LanesOfFiles> {
  const format = out === undefined ? null : laneFormat(out)
  if (out !== undefined && format === null)
    throw new SurveyError('unknown-kind', `${out} must end in .gpx, .kml, .geojson or .csv.`)
  const { content } = await readFileInThread(path.basename(file), file)
  const area = await groundOf(file, content)
  const grid = planarGrid(area.epsg, ostn15())
  const wished = await wishedBearing({ bearing, along, plough, contour }, area, grid)
  const start = performance.now()
  const { plan, shares, figures } = lanesOf(area, grid, { ...wishes, bearing: wished.bearing })
  const seconds = (performance.now() - start) / 1000
  const light = day === undefined ? null : lightOn(day, area, grid, figures.hours)
  if (out !== undefined) writeLanes(out, format!, plan, shares, grid, names)
  const faults = content.faults.map((fault) => ({ ...fault, file: path.basename(file) }))
  const { from: bearingFrom, text } = wished
  if (bearingFrom.layer !== null)
    faults.push(...wished.faults.map((fault) => ({ ...fault, file: bearingFrom.layer! })))
  const notes = [...(text === null ? [] : [text]), ...leftOutOf(content), ...figures.notes]
  return { figures: { ...figures, notes, seconds, light, bearingFrom }, faults }
}

/** The bearing that was wished for, and how it was come by. */
async function wishedBearing(
  { bearing, along, plough, contour }: Pick<LaneFilesWishes, 'bearing' | 'along' | 'plough' | 'contour'>,
  area: PlanarArea,
  grid: PlanarGrid,
): Promise<{ bearing: number | null; from: BearingFrom; text: string | null; faults: readonly FileFault[] }> {
  const bare = { layer: null, spreadDeg: null }
  const plain = { text: null, faults: [] }
  if (along !== undefined)
    return { ...plain, bearing: await bearingOfLine(along, grid), from: { by: 'line', ...bare } }
  const raster = plough ?? contour
  if (raster === undefined) {
    const by = bearing === undefined ? 'turns' : 'given'
    return { ...plain, bearing: bearing ?? null, from: { by, ...bare } }
  }
  const by = plough === undefined ? 'contour' : 'plough'
  const found = await bearingOfRaster(raster, by, area, grid)
  if (!found.clear) throw new SurveyError('bad-value', found.text)
  const { text, faults, spreadDeg } = found
  return { bearing: found.bearing, from: { by, layer: path.basename(raster), spreadDeg }, text, faults }
}

function writeLanes(
  out: string,
  format: ExportFormat,
  plan: LanePlan,
  shares: readonly LaneShare[],
  grid: PlanarGrid,
  names: NameLimits,
): void {
  const lanes = laneLines(plan, shares, grid, names)
  const title = 'Lanes'
  const text =
    format === 'gpx'
      ? writeGpx(
          { areas: [], findspots: [], tracks: lanes },
          { title, plannedTracks: walkLines(plan, shares, grid, names) },
        )
      : textOf({ areas: [], findspots: [], tracks: lanes }, format, title, grid)
  writeOut(out, text)
}

const planned = { epsg: 4326, walked: false, time: null, elevation: null, hdop: null, extras: [] } as const

/** Each lane as a planned line, named by its number in the walk, after the letter of its walker where there are several. */
function laneLines(
  plan: LanePlan,
  shares: readonly LaneShare[],
  grid: PlanarGrid,
  limits: NameLimits,
): RecordedTrack[] {
  const lanes = shares.flatMap(({ from, to }, walker) =>
    Array.from({ length: to - from }, (_, i) => ({ lane: from + i, number: i + 1, walker })),
  )
  const named = laneNames(lanes, shares.length, limits)
  return lanes.map(({ lane, number, walker }, i) => ({
    ...planned,
    name: named[i]!,
    xy: onEarth(cornersOf(plan, lane), grid),
    segmentStart: Uint32Array.of(0),
    attributes: {
      lane: String(number),
      ...(shares.length > 1 ? { walker: String(walker + 1) } : {}),
      length_m: plan.laneM[lane]!.toFixed(1),
    },
  }))
}

/** The whole walk of each walker, lanes and the ways between them, as one planned line. */
function walkLines(
  plan: LanePlan,
  shares: readonly LaneShare[],
  grid: PlanarGrid,
  limits: NameLimits,
): RecordedTrack[] {
  const walked = shares
    .map((share, walker) => ({ share, walker }))
    .filter(({ share }) => share.to > share.from)
  const named = walkNames(
    walked.map(({ walker }) => walker),
    shares.length,
    limits,
  )
  return walked.map(({ share: { from, to } }, i) => {
    const xy: number[] = []
    for (let lane = from; lane < to; lane++) {
      for (const value of cornersOf(plan, lane)) xy.push(value)
      if (lane + 1 === to) break
      for (let k = 2 * plan.wayStart[lane]!; k < 2 * plan.wayStart[lane + 1]!; k++) xy.push(plan.wayXy[k]!)
    }
    return {
      ...planned,
      name: named[i]!,
      xy: onEarth(xy, grid),
      segmentStart: Uint32Array.of(0),
      attributes: {},
    }
  })
}
