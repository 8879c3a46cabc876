import type { LandClash } from '#contract'
import { clashesOf, clashInWords, noShape, type Shape } from '#core/constraint'
import type { PlanarGrid } from '#core/geodesy'
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

/** Clashes of lanes, told once for each thing that they come too near to, with how many do; areas that were `cut` out of their ground are none. */
export function laneClashes(
  survey: SurveyFile,
  grid: PlanarGrid,
  lanes: readonly { readonly name: string; readonly xy: Float64Array }[],
  cut: ReadonlySet<number>,
): LandClash[] {
  const shapes = lanes.map(({ xy }) => ({ ...noShape, lines: [xy] }))
  const groups = new Map<Obstacle, Met[]>()
  for (const met of meetings(shapes, obstaclesOf(survey, grid, cut)))
    groups.set(met.obstacle, [...(groups.get(met.obstacle) ?? []), met])
  return [...groups]
    .map(([obstacle, met]) => {
      const nearest = met.reduce((best, one) => (one.distanceM < best.distanceM ? one : best))
      const one = clashInWords(
        lanes[nearest.planned]!.name,
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
