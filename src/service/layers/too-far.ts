import type { FileFault } from '#core/faults'
import { boundsOf } from '#core/geometry'
import type { LayerFacts, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { projected } from '../projecting.ts'
import { layerPlace } from './layer-place.ts'

/** A layer farther than this from everything else in the survey is told of: no landholding is that wide. */
const farM = 50_000

/** What to tell where a layer lies far from all areas, tracks and findspots: its system, or its world file, is likely another's. Null else. */
export function tooFar(survey: SurveyFile, facts: LayerFacts): FileFault | null {
  const grid = surveyGrid(survey)
  const there = survey.bounds()
  const place = grid && layerPlace(facts, grid)
  if (!place || !there) return null
  const { minX, minY, maxX, maxY } = there
  const corners = Float64Array.of(minX, minY, maxX, minY, maxX, maxY, minX, maxY)
  const content = boundsOf(projected(corners, grid.forward))
  const [west, south, east, north] = place.bounds
  const dx = Math.max(content.minX - east, west - content.maxX, 0)
  const dy = Math.max(content.minY - north, south - content.maxY, 0)
  const distance = Math.hypot(dx, dy)
  if (!(distance > farM)) return null
  const text = `${facts.name} lies ${Math.round(distance / 1000)} km from everything else in the survey: check its coordinate system, and that its world file is its own.`
  return { line: null, code: 'no-overlap', text }
}
