import type { FileFault } from '#core/faults'
import { type PlanarGrid, planarGrid } from '#core/geodesy'
import type { RecordedFindspot } from '#core/record'
import {
  type AveragedPlace,
  averagePlace,
  defaultCleanSettings,
  errorOfMean,
  radiusOfError,
} from '#core/track'
import { ostn15 } from '#work'
import { projected } from './projecting.ts'

/** Waypoints of one name are one findspot only where they lie this near to the first and follow each other in this time (our own choices). */
const withinM = 15
const withinS = 600
const wgs84 = 4326

export interface AveragedFindspots {
  readonly findspots: readonly RecordedFindspot[]
  readonly faults: readonly FileFault[]
}

/**
 * Findspots whose place is a mean keep its error as their accuracy, and say in their note how it was come by: those of which a receiver says how many fixes
 * it averaged, and waypoints of one name that were taken one after another at one spot, which become one. Names must hold a figure: two things called
 * "coin" are two findspots.
 */
export function averagedFindspots(
  findspots: readonly RecordedFindspot[],
  grid: PlanarGrid | null,
): AveragedFindspots {
  const faults: FileFault[] = []
  const out = groupsOf(findspots).map((group) => {
    const [first] = group
    const merged = group.length > 1 && grid !== null ? meanOf(group, grid) : null
    if (merged === null) return group.map(withSamples)
    const { place, findspot } = merged
    const text = `${group.length} waypoints named ${JSON.stringify(first!.name)} were taken one after another at one spot: they are one findspot at their mean, good to ${findspot.accuracyM!.toFixed(1)} m.`
    faults.push({ line: null, code: 'assumed', text })
    return [{ ...findspot, note: withNote(group, meanText(place)) }]
  })
  return { findspots: out.flat(), faults }
}

const errorOfOne = ({ attributes }: RecordedFindspot): number => {
  const hdop = Number(attributes.hdop)
  return hdop > 0 ? hdop * defaultCleanSettings.hdopM : defaultCleanSettings.errorM
}

/** How many fixes a receiver says it averaged, by whatever extension: its last name is `samples`. */
function samplesOf({ attributes }: RecordedFindspot): number | null {
  const [, text] = Object.entries(attributes).find(([name]) => /(^|\/)samples$/i.test(name)) ?? []
  const samples = Number(text)
  return Number.isInteger(samples) && samples > 1 ? samples : null
}

function withSamples(findspot: RecordedFindspot): RecordedFindspot {
  const samples = samplesOf(findspot)
  if (samples === null || findspot.accuracyM !== null) return findspot
  const error = { errorM: errorOfOne(findspot), quickShare: defaultCleanSettings.quickShare }
  const note = withNote([findspot], `The receiver's mean of ${samples} fixes.`)
  return { ...findspot, accuracyM: radiusOfError(errorOfMean(samples, null, error)), note }
}

function meanText({ fixes, spreadM }: AveragedPlace): string {
  return `Mean of ${fixes} fixes, which spread by ${spreadM!.toFixed(1)} m along an axis.`
}

/** The notes of all, each once, and how the place was come by. */
function withNote(group: readonly RecordedFindspot[], text: string): string {
  const notes = group.flatMap(({ note }) => (note === null ? [] : [note]))
  return [...new Set(notes), text].join('\n')
}

/** Findspots that may be one, in the order of the file: the same name with a figure in it, one system, at most one with a find, one after another. */
function groupsOf(findspots: readonly RecordedFindspot[]): RecordedFindspot[][] {
  const groups: RecordedFindspot[][] = []
  const open = new Map<string, RecordedFindspot[]>()
  for (const findspot of findspots) {
    const name = findspot.name?.trim() ?? ''
    const group = /\d/.test(name) ? open.get(name) : undefined
    if (group !== undefined && follows(group, findspot)) group.push(findspot)
    else {
      const fresh = [findspot]
      groups.push(fresh)
      open.set(name, fresh)
    }
  }
  return groups
}

function follows(group: readonly RecordedFindspot[], next: RecordedFindspot): boolean {
  const last = group.at(-1)!
  const both = last.time !== null && next.time !== null
  const near = both ? Math.abs(next.time - last.time) <= withinS : last.time === null && next.time === null
  const finds = [...group, next].filter(({ find }) => find !== null).length
  return near && next.epsg === last.epsg && finds <= 1
}

/** The mean of a group as a findspot; null where they do not lie at one spot, or outside the grid. */
function meanOf(
  group: readonly RecordedFindspot[],
  surveyGrid: PlanarGrid,
): { readonly place: AveragedPlace; readonly findspot: RecordedFindspot } | null {
  const [first] = group
  const given = Float64Array.from(group.flatMap(({ x, y }) => [x, y]))
  const grid = first!.epsg === wgs84 ? surveyGrid : planarGrid(first!.epsg, ostn15())
  const xy = first!.epsg === wgs84 ? projected(given, grid.forward) : given
  for (let i = 0; i < xy.length; i += 2)
    if (!(Math.hypot(xy[i]! - xy[0]!, xy[i + 1]! - xy[1]!) <= withinM)) return null
  const errors = group.map(errorOfOne)
  const errorM = errors.reduce((sum, one) => sum + one, 0) / errors.length
  const place = averagePlace(xy, { errorM, quickShare: defaultCleanSettings.quickShare })!
  const mean = Float64Array.of(place.x, place.y)
  const [x, y] = first!.epsg === wgs84 ? projected(mean, grid.inverse) : mean
  const find = group.map((one) => one.find).find((one) => one !== null) ?? null
  return { place, findspot: { ...first!, x: x!, y: y!, find, accuracyM: radiusOfError(place.errorM) } }
}
