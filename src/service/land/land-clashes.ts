import type { LandClash, PlannedLane } from '#contract'
import { clashesOf, clashInWords, noShape, type Shape } from '#core/constraint'
import type { PlanarGrid } from '#core/geodesy'
import { areaBounds, type PlanarArea, pointInPolygon } from '#core/geometry'
import type { SurveyFile } from '#store'
import { planarPolygons } from '../ground.ts'
import { projected } from '../projecting.ts'
import { planarShape } from './constraint-shapes.ts'

/** Something to be left alone, in a grid. */
interface Obstacle {
  readonly name: string
  readonly bufferM: number
  readonly shape: Shape
}

/** One thing that is planned. */
export interface Planned {
  readonly what: LandClash['what']
  readonly id: number | null
  readonly name: string
  readonly shape: Shape
}

/** Constraints, and ground of the survey that is to be left alone or to be careful on, but for what was cut out. */
function obstaclesOf(survey: SurveyFile, grid: PlanarGrid, cut: ReadonlySet<number> = new Set()): Obstacle[] {
  const constraints = survey.land.constraints().map(({ name, kind, bufferM, shape }) => ({
    name: kind === '' ? name : `${name} (${kind})`,
    bufferM,
    shape: planarShape(shape, grid),
  }))
  const ground = survey.areas().flatMap((area) => {
    if ((area.kind !== 'no-go' && area.kind !== 'hazard') || cut.has(area.id)) return []
    const what = area.kind === 'no-go' ? 'ground to be left alone' : 'a hazard'
    const shape = { ...noShape, polygons: planarPolygons(area, grid) }
    return [{ name: `${area.name ?? `Area ${area.id}`}, ${what}`, bufferM: 0, shape }]
  })
  return [...constraints, ...ground]
}

interface Met {
  readonly planned: number
  readonly obstacle: Obstacle
  readonly distanceM: number
  readonly x: number
  readonly y: number
}

/** Each buffer in its own pass, for the sum takes one. */
function meetings(planned: readonly Shape[], obstacles: readonly Obstacle[]): Met[] {
  const byBuffer = new Map<number, Obstacle[]>()
  for (const obstacle of obstacles)
    byBuffer.set(obstacle.bufferM, [...(byBuffer.get(obstacle.bufferM) ?? []), obstacle])
  return [...byBuffer].flatMap(([bufferM, group]) =>
    clashesOf(
      planned,
      group.map(({ shape }) => shape),
      bufferM,
    ).map((clash) => ({ ...clash, obstacle: group[clash.constraint]! })),
  )
}

/** Clashes of things that are planned, each told by itself, nearest first. */
export function clashesWith(survey: SurveyFile, grid: PlanarGrid, planned: readonly Planned[]): LandClash[] {
  const shapes = planned.map(({ shape }) => shape)
  return meetings(shapes, obstaclesOf(survey, grid))
    .sort((a, b) => a.distanceM - b.distanceM)
    .map(({ planned: p, obstacle, distanceM, x, y }) => {
      const { what, id, name } = planned[p]!
      const text = clashInWords(name, obstacle.name, distanceM, obstacle.bufferM)
      return { what, id, text, distanceM, easting: x, northing: y }
    })
}

function nameOf({ walker, number }: PlannedLane, several: boolean): string {
  return several ? `Lane ${number} of walker ${walker}` : `Lane ${number}`
}

/** Clashes of lanes, told once for each thing that they come too near to, with how many do; areas that were `cut` out of their ground are none. */
export function laneClashes(
  survey: SurveyFile,
  grid: PlanarGrid,
  lanes: readonly PlannedLane[],
  cut: ReadonlySet<number>,
): LandClash[] {
  const shapes = lanes.map(({ xy }) => ({ ...noShape, lines: [Float64Array.from(xy)] }))
  const several = lanes.some(({ walker }) => walker > 1)
  const groups = new Map<Obstacle, Met[]>()
  for (const met of meetings(shapes, obstaclesOf(survey, grid, cut)))
    groups.set(met.obstacle, [...(groups.get(met.obstacle) ?? []), met])
  return [...groups]
    .map(([obstacle, met]) => {
      const nearest = met.reduce((best, one) => (one.distanceM < best.distanceM ? one : best))
      const one = clashInWords(
        nameOf(lanes[nearest.planned]!, several),
        obstacle.name,
        nearest.distanceM,
        obstacle.bufferM,
      )
      const more = met.length - 1
      const others =
        more === 0 ? '' : more === 1 ? ' One more comes too near.' : ` ${more} more come too near.`
      return {
        what: 'lanes' as const,
        id: null,
        text: `${one}${others}`,
        distanceM: nearest.distanceM,
        easting: nearest.x,
        northing: nearest.y,
      }
    })
    .sort((a, b) => a.distanceM - b.distanceM)
}

/** Metres between the places of a lane that are asked whether they lie in an area, and how far its ends may lie on the edge. */
const [everyM, endM] = [0.5, 0.05]

/** Whether a lane runs into an area, not only up to its edge, metres. */
function runsInto({ xy }: PlannedLane, { epsg, polygons }: PlanarArea): boolean {
  const { minX, minY, maxX, maxY } = areaBounds({ epsg, polygons })
  for (let i = 2; i < xy.length; i += 2) {
    const [x, y, dx, dy] = [xy[i - 2]!, xy[i - 1]!, xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!]
    if (Math.max(x, x + dx) < minX || Math.min(x, x + dx) > maxX) continue
    if (Math.max(y, y + dy) < minY || Math.min(y, y + dy) > maxY) continue
    const length = Math.hypot(dx, dy)
    const steps = Math.ceil(length / everyM)
    for (let step = 0; step <= steps; step++) {
      const at = Math.min(length - endM, endM + (step * length) / steps) / length
      const [px, py] = [x + at * dx, y + at * dy]
      if (length > 2 * endM && polygons.some((polygon) => pointInPolygon(px, py, polygon))) return true
    }
  }
  return false
}

/** Clashes of lanes that were kept, with the land as it is now; areas that they were laid round are none. */
export function keptLaneClashes(
  survey: SurveyFile,
  grid: PlanarGrid,
  lanes: readonly PlannedLane[],
): LandClash[] {
  const round = survey
    .areas()
    .filter((area) => area.kind === 'no-go' || area.kind === 'hazard')
    .filter((area) => {
      const planar = { epsg: grid.epsg, polygons: planarPolygons(area, grid) }
      return !lanes.some((lane) => runsInto(lane, planar))
    })
  return laneClashes(survey, grid, lanes, new Set(round.map(({ id }) => id)))
}

/** Search areas and targets of a survey. */
export function plannedOf(survey: SurveyFile, grid: PlanarGrid): Planned[] {
  const areas = survey.areas().flatMap((area): Planned[] => {
    if (area.kind !== 'search') return []
    const shape = { ...noShape, polygons: planarPolygons(area, grid) }
    return [{ what: 'area', id: area.id, name: area.name ?? `Area ${area.id}`, shape }]
  })
  const targets = survey.targets().map(({ id, name, lon, lat }): Planned => {
    const points = projected(Float64Array.of(lon, lat), grid.forward)
    return { what: 'target', id, name, shape: { ...noShape, points } }
  })
  return [...areas, ...targets]
}
