import { SurveyError } from '#core/faults'
import {
  type AreaFlaw,
  areaBounds,
  type PlanarArea,
  type Polygon,
  ringArea,
  validateArea,
} from '#core/geometry'

/** Faults: SurveyError('setting-out-of-range') for a spacing or bearing that is none. */
export function checkWishes({
  spacingM,
  bearing,
}: {
  readonly spacingM: number
  readonly bearing: number | null
}): void {
  if (!(spacingM > 0 && Number.isFinite(spacingM)))
    throw new SurveyError(
      'setting-out-of-range',
      `The spacing of lanes must be above 0 m, not ${spacingM} m: give the width swept less the overlap.`,
    )
  if (bearing !== null && !Number.isFinite(bearing))
    throw new SurveyError(
      'setting-out-of-range',
      `The bearing must be a number of degrees from grid north, not ${bearing}; leave it out for the fewest turns.`,
    )
}

const mostFlaws = 20
const flawsTold = 5

/** What is wrong with an area: polygons whose rings are not sound, and a sentence about each flaw. */
export function checkGround(area: PlanarArea): { flaws: ReadonlySet<number>; notes: string[] } {
  const rings = area.polygons.flatMap((polygon) => polygon.rings)
  if (rings.length === 0)
    throw new SurveyError('no-area', 'There is no search area. Draw one, or bring one in.')
  if (rings.some((ring) => ring.some((value) => !Number.isFinite(value))))
    throw new SurveyError('area-invalid', 'The search area has a corner without a place. Mend or redraw it.')
  const { minX, minY, maxX, maxY } = areaBounds(area)
  const found = validateArea(area, mostFlaws)
  const unsound = found.filter(({ kind }) => kind !== 'parts-overlap')
  const ground = area.polygons.some((polygon) => closedPolygon(polygon) !== null)
  if (!ground || !(maxX > minX && maxY > minY)) throw noGround()
  // Not every flaw is told: beyond some, none of the polygons is trusted.
  const flaws = new Set(
    found.length < mostFlaws ? unsound.map(({ polygon }) => polygon) : area.polygons.map((_, p) => p),
  )
  return { flaws, notes: found.slice(0, flawsTold).map(flawInWords) }
}

export function noGround(): SurveyError {
  return new SurveyError('area-invalid', 'The outline of the search area encloses no ground. Draw it anew.')
}

function flawInWords({ kind, text }: AreaFlaw): string {
  if (kind === 'parts-overlap') return `${text} The ground they share gets the lanes of both.`
  if (kind === 'no-ground') return `${text} It gets no lane.`
  return `${text} What lies inside was decided by the even-odd rule; mend the outline to be sure.`
}

/** A polygon with closed rings that enclose something; null where its outline encloses nothing and does not cross itself. */
export function closedPolygon({ rings }: Polygon): Polygon | null {
  const closed = rings.map(closedRing).filter((ring) => ring.length >= 8)
  const outer = rings[0] && closedRing(rings[0])
  if (outer === undefined || outer.length < 8 || (ringArea(outer) === 0 && flat(outer))) return null
  return { rings: closed.filter((ring, r) => r === 0 || !flat(ring)) }
}

function closedRing(ring: Float64Array): Float64Array {
  if (ring.length < 4 || (ring[0] === ring.at(-2) && ring[1] === ring.at(-1))) return ring
  return Float64Array.from([...ring, ring[0]!, ring[1]!])
}

/** Whether all corners lie on one line. */
function flat(ring: Float64Array): boolean {
  let far = 0
  for (let i = 2; i < ring.length; i += 2)
    if (
      (ring[i]! - ring[0]!) ** 2 + (ring[i + 1]! - ring[1]!) ** 2 >
      (ring[far]! - ring[0]!) ** 2 + (ring[far + 1]! - ring[1]!) ** 2
    )
      far = i
  const [dx, dy] = [ring[far]! - ring[0]!, ring[far + 1]! - ring[1]!]
  for (let i = 2; i < ring.length; i += 2)
    if (dx * (ring[i + 1]! - ring[1]!) - dy * (ring[i]! - ring[0]!) !== 0) return false
  return true
}
