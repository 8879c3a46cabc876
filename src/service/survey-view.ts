import path from 'node:path'
import type { CoverFigures, CoverView, GridFrame, Settings, SurveyView } from '#contract'
import type { PlanarGrid } from '#core/geodesy'
import { type Bounds, boundsOf, emptyBounds, joinBounds, type Polygon, pointInPolygon } from '#core/geometry'
import type { SurveyFile } from '#store'
import { surveyGrid, wholePolygons } from './ground.ts'
import { layerPlace } from './layers/layer-place.ts'
import { projected } from './projecting.ts'
import { settingsOf } from './settings.ts'
import { isoTime, planarFindspot } from './views.ts'

const squareMetresPerHectare = 10_000
const secondsPerHour = 3600

const isIn = ([x, y]: readonly [number, number], polygons: readonly Polygon[]): boolean =>
  polygons.some((polygon) => pointInPolygon(x, y, polygon))

/** Finds whose findspot lies in the search ground; a findspot with no find recorded counts as one. */
function findsInGround(survey: SurveyFile, grid: PlanarGrid): number {
  const [ground, avoided] = [wholePolygons(survey, grid, ['search']), wholePolygons(survey, grid, ['no-go'])]
  let finds = 0
  for (const findspot of survey.findspots()) {
    const planar = planarFindspot(findspot, grid)
    if (planar && isIn(planar, ground) && !isIn(planar, avoided)) {
      finds += Math.max(1, findspot.finds.length)
    }
  }
  return finds
}

/** The cover last worked out, with the finds as they are now; null where none has been. */
export function latestCoverView(survey: SurveyFile, grid: PlanarGrid): CoverView | null {
  const cover = survey.latestCover()
  if (cover === null) return null
  const figures = cover.figures as CoverFigures
  const finds = findsInGround(survey, grid)
  const { walkingS, areaM2 } = figures
  return {
    ...figures,
    id: cover.id,
    madeAt: isoTime(cover.madeAt)!,
    settings: cover.settings as Settings,
    frame: cover.frame as GridFrame,
    finds,
    findsPerHour: walkingS !== null && walkingS > 0 ? (finds * secondsPerHour) / walkingS : null,
    findsPerHectare: areaM2 > 0 ? (finds * squareMetresPerHectare) / areaM2 : null,
  }
}

/** Where the map should go, in the survey's grid: its areas where there are any, else all it holds, its layers last. */
function viewBounds(survey: SurveyFile, grid: PlanarGrid): SurveyView['bounds'] {
  const rings = wholePolygons(survey, grid, ['search']).map(({ rings }) => rings[0]!)
  const all = survey.bounds()
  const corners =
    all &&
    projected(
      Float64Array.of(all.minX, all.minY, all.maxX, all.minY, all.maxX, all.maxY, all.minX, all.maxY),
      grid.forward,
    )
  const lines = rings.length > 0 ? rings : corners ? [corners] : []
  const bounds =
    lines.length > 0 ? lines.map(boundsOf).reduce(joinBounds, emptyBounds) : layersBounds(survey, grid)
  return bounds.minX <= bounds.maxX ? [bounds.minX, bounds.minY, bounds.maxX, bounds.maxY] : null
}

function layersBounds(survey: SurveyFile, grid: PlanarGrid): Bounds {
  return survey
    .layers()
    .flatMap((layer) => {
      const place = layerPlace(layer, grid)
      if (place === null) return []
      const [minX, minY, maxX, maxY] = place.bounds
      return [{ minX, minY, maxX, maxY }]
    })
    .reduce<Bounds>(joinBounds, emptyBounds)
}

function markCounts(survey: SurveyFile): SurveyView['marks'] {
  const counts = { candidate: 0, accepted: 0, unsure: 0, rejected: 0 }
  for (const { state } of survey.marks()) counts[state] += 1
  return { ...counts, targets: survey.targets().length }
}

/** All that the desk needs to draw its frame. Cost: grows with the findspots (a tenth of a second for 50,000). */
export function surveyView(survey: SurveyFile): SurveyView {
  const { code, title, demo } = survey.identity()
  const grid = surveyGrid(survey)
  const stored = survey.latestCover()
  return {
    file: path.basename(survey.path),
    code,
    title,
    demo,
    grid: grid && {
      epsg: grid.epsg,
      name: grid.name,
      method: grid.method,
      expectedErrorM: grid.expectedErrorM,
    },
    bounds: grid && viewBounds(survey, grid),
    settings: settingsOf(survey),
    counts: survey.counts(),
    marks: markCounts(survey),
    revision: survey.revision(),
    undo: survey.undoable(),
    cover: grid && latestCoverView(survey, grid),
    coverStale: stored !== null && stored.groundRevision !== survey.groundRevision(),
  }
}
