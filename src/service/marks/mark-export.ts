import type { PlanarGrid } from '#core/geodesy'
import { ringArea } from '#core/geometry'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import type { StoredMark, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { lineLength, lineOf, stepped } from './mark-outline.ts'

const wgs84 = 4326

interface Sizes {
  readonly lengthM: number | null
  readonly areaM2: number | null
}

/** Length of a line or of the way round an enclosure, and the ground of that, in the survey's grid. */
function sizesOf({ kind, outline }: StoredMark, grid: PlanarGrid | null): Sizes {
  if (grid === null || kind === 'ring' || kind === 'pit') return { lengthM: null, areaM2: null }
  const line = lineOf(stepped(outline, grid.forward))
  if (line.some(Number.isNaN)) return { lengthM: null, areaM2: null }
  return { lengthM: lineLength(line), areaM2: kind === 'enclosure' ? Math.abs(ringArea(line)) : null }
}

/** Figures of a mark as texts; those that it has. */
function attributesOf(mark: StoredMark, grid: PlanarGrid | null): Record<string, string> {
  const sizes = sizesOf(mark, grid)
  const number = (value: number | null, digits: number): string | null => value?.toFixed(digits) ?? null
  const texts: Record<string, string | null> = {
    kind: mark.kind,
    state: mark.state,
    diameter_m: number(mark.diameterM, 2),
    length_m: number(sizes.lengthM, 1),
    area_m2: number(sizes.areaM2, 1),
    ditch_width_m: number(mark.ditchWidthM, 2),
    pair_spacing_m: number(mark.pairSpacingM, 2),
    may_be: mark.mayBe.length === 0 ? null : mark.mayBe.join('; '),
    tone: mark.tone,
    completeness: number(mark.completeness, 3),
    contrast: number(mark.contrast, 2),
    score: number(mark.score, 4),
    false_alarms_km2:
      mark.falseAlarmsPerKm2 === null ? null : String(Number(mark.falseAlarmsPerKm2.toPrecision(4))),
    layer: mark.layerName,
    made_by: mark.madeBy,
  }
  return Object.fromEntries(
    Object.entries(texts).filter((entry): entry is [string, string] => entry[1] !== null),
  )
}

const nameOf = ({ kind, id }: StoredMark): string => `${kind.charAt(0).toUpperCase()}${kind.slice(1)} ${id}`
const told = (survey: SurveyFile): StoredMark[] => survey.marks().filter(({ state }) => state !== 'rejected')

const point = { epsg: wgs84, accuracyM: null, elevation: null, time: null, find: null } as const

/** Marks as points at their middles, for forms that are read by receivers and tables. Rejected ones are left out. */
export function markPoints(survey: SurveyFile): RecordedFindspot[] {
  const grid = surveyGrid(survey)
  return told(survey).map((mark) => ({
    ...point,
    name: nameOf(mark),
    x: mark.lon,
    y: mark.lat,
    note: mark.note,
    attributes: attributesOf(mark, grid),
  }))
}

/** Marks by their outlines. Rejected ones are left out. */
export function markOutlines(survey: SurveyFile): {
  readonly areas: RecordedArea[]
  readonly tracks: RecordedTrack[]
} {
  const grid = surveyGrid(survey)
  const [areas, tracks]: [RecordedArea[], RecordedTrack[]] = [[], []]
  for (const mark of told(survey)) {
    const note: Record<string, string> = mark.note === null ? {} : { description: mark.note }
    const common = { epsg: wgs84, name: nameOf(mark), attributes: { ...attributesOf(mark, grid), ...note } }
    if (mark.outline.type === 'polygon') areas.push({ ...common, polygons: [mark.outline.polygon] })
    else {
      const line = { walked: false, xy: mark.outline.xy, segmentStart: Uint32Array.of(0) }
      tracks.push({ ...common, ...line, time: null, elevation: null, hdop: null, extras: [] })
    }
  }
  return { areas, tracks }
}

export function targetPoints(survey: SurveyFile): RecordedFindspot[] {
  return survey
    .targets()
    .map(({ name, lon, lat, note }) => ({ ...point, name, x: lon, y: lat, note, attributes: {} }))
}
