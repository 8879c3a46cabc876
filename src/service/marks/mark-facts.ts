import type { Layer, MarkEdit, NewMark } from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import { boundsOf, validateArea } from '#core/geometry'
import type { MarkFacts, MarkOutline, PlanarPosition, StoredMark } from '#store'
import { circle, lineMiddle, lineOf, stepped } from './mark-outline.ts'

/** A place in the survey's grid as it is stored. Faults: SurveyError 'outside-grid'. */
export function storedPlace(
  easting: number,
  northing: number,
  grid: PlanarGrid,
): { readonly lon: number; readonly lat: number; readonly planar: PlanarPosition } {
  const pair = Float64Array.of(easting, northing)
  grid.inverse(pair, pair)
  const [lon, lat] = pair as unknown as [number, number]
  if (Number.isNaN(lon) || Number.isNaN(lat)) {
    throw new SurveyError('outside-grid', `The place lies outside ${grid.name}; give one within.`)
  }
  return { lon, lat, planar: { epsg: grid.epsg, easting, northing, method: 'as given' } }
}

function storedOutline(outline: MarkOutline, grid: PlanarGrid): MarkOutline {
  const lonLat = stepped(outline, grid.inverse)
  if (lineOf(lonLat).some(Number.isNaN)) {
    throw new SurveyError('outside-grid', `The outline reaches outside ${grid.name}; keep it within.`)
  }
  return lonLat
}

/** Middle and outline of a circle. Faults: SurveyError 'outside-grid'. */
export function circleFacts(easting: number, northing: number, diameterM: number, grid: PlanarGrid) {
  const ring = circle(easting, northing, diameterM)
  return {
    ...storedPlace(easting, northing, grid),
    diameterM,
    outline: storedOutline({ type: 'polygon', polygon: { rings: [ring] } }, grid),
  }
}

/** Middle and outline of a line or an enclosure by its places. Faults: SurveyError 'area-invalid', 'outside-grid'. */
export function outlineFacts(
  kind: 'line' | 'enclosure',
  pairs: readonly (readonly [number, number])[],
  grid: PlanarGrid,
) {
  const [first, last] = [pairs[0]!, pairs.at(-1)!]
  const closed = first[0] === last[0] && first[1] === last[1]
  const xy = Float64Array.from((kind === 'line' || closed ? pairs : [...pairs, first]).flat())
  if (kind === 'enclosure') refuseFlawed(xy, grid.epsg)
  const { minX, minY, maxX, maxY } = boundsOf(xy)
  if (kind === 'line' && minX === maxX && minY === maxY) {
    throw new SurveyError('area-invalid', 'The line has no length; give it a second place.')
  }
  // A line is met half way along it, where a person can stand on it.
  const middle = kind === 'line' ? lineMiddle(xy) : ([(minX + maxX) / 2, (minY + maxY) / 2] as const)
  const outline: MarkOutline =
    kind === 'line' ? { type: 'line', xy } : { type: 'polygon', polygon: { rings: [xy] } }
  return {
    ...storedPlace(...middle, grid),
    diameterM: null,
    outline: storedOutline(outline, grid),
  }
}

function refuseFlawed(ring: Float64Array, epsg: number): void {
  const [flaw] = validateArea({ epsg, polygons: [{ rings: [ring] }] }, 1)
  if (flaw) throw new SurveyError('area-invalid', `${flaw.text} Move a corner so that it does not.`)
}

/** What of a mark a search may measure, unmeasured. */
export const unmeasured = {
  ditchWidthM: null,
  tone: null,
  completeness: null,
  arcGaps: [],
  ellipticity: null,
  contrast: null,
  score: null,
  falseAlarmsPerKm2: null,
  pairSpacingM: null,
  mayBe: [],
} as const

/** A mark drawn by hand: accepted, since a person drew it. Faults: SurveyError 'area-invalid', 'outside-grid'. */
export function handMark(mark: NewMark, layer: Layer | null, grid: PlanarGrid): MarkFacts {
  const shape =
    'outline' in mark
      ? outlineFacts(mark.kind, mark.outline, grid)
      : circleFacts(mark.easting, mark.northing, mark.diameterM, grid)
  return {
    ...unmeasured,
    ...shape,
    kind: mark.kind,
    state: 'accepted',
    note: mark.note ?? null,
    layerId: layer?.id ?? null,
    layerName: layer?.name ?? null,
    view: layer ? (mark.view ?? null) : null,
    settings: null,
    seenAgain: [],
    madeBy: 'hand',
    edited: false,
  }
}

/** What an edit changes. Faults: SurveyError 'setting-out-of-range', 'area-invalid', 'outside-grid'. */
export function editedFacts(
  mark: StoredMark,
  now: { readonly easting: number; readonly northing: number; readonly diameterM: number | null },
  edit: MarkEdit,
  grid: PlanarGrid,
): Partial<MarkFacts> {
  const { easting, northing, diameterM, outline, ...plain } = edit
  const kind = edit.kind ?? mark.kind
  const isRound = kind === 'ring' || kind === 'pit'
  const wasRound = mark.kind === 'ring' || mark.kind === 'pit'
  const moves = easting !== undefined || northing !== undefined || diameterM !== undefined
  if (isRound !== wasRound) {
    throw wrongPart(`A ${mark.kind} cannot be made a ${kind}; draw the ${kind} instead.`)
  }
  if (moves && !isRound)
    throw wrongPart(`A ${kind} is changed by its outline, not by a middle and a diameter.`)
  if (outline && isRound)
    throw wrongPart(`A ${kind} is changed by its middle and its diameter, not by an outline.`)
  if (outline) {
    const edited = mark.madeBy === 'detector'
    return { ...plain, ...outlineFacts(kind as 'line' | 'enclosure', outline, grid), edited }
  }
  const edited = mark.madeBy === 'detector' && (moves || kind !== mark.kind)
  if (!moves) return edited ? { ...plain, edited } : plain
  const moved = circleFacts(
    easting ?? now.easting,
    northing ?? now.northing,
    diameterM ?? now.diameterM ?? 0,
    grid,
  )
  return { ...plain, ...moved, edited }
}

const wrongPart = (sentence: string) => new SurveyError('setting-out-of-range', sentence)
