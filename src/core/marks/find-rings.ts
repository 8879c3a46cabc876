import type { Raster, RingCandidate, RingSettings } from './candidate.ts'
import { levelsOf, sizeAt } from './levels.ts'
import { ringCandidates } from './ring-candidates.ts'
import { ringPlan } from './ring-plan.ts'
import { type MeasuredRing, ringSearches, ringsInWindow } from './ring-search.ts'
import { searchFalseAlarms } from './ring-surrogates.ts'

/** Of the surrogates; a run repeats. */
const surrogateSeed = 20_261_125

/**
 * Looks for rings on a raster held in memory, all in one piece.
 *
 * Units   pixels, from the outer corner of the upper left one.
 * Method  docs/methods/marks.md
 * Limits  a ring whose centre lies outside the raster is not found. The score was trained on synthetic scenes.
 * Cost    about 0.5 s a million pixels and tone, 60 bytes a pixel; threads and large rasters: src/work.
 */
export function findRings(raster: Raster, settings: RingSettings): RingCandidate[] {
  const source = levelsOf(raster, deepestLevel(settings))
  const searches = ringSearches(source, settings)
  const curves = searches.map((search) => searchFalseAlarms(source, search, surrogateSeed))
  return ringCandidates(measuredRings(raster, settings), curves, settings)
}

/** Everything that may be a ring, with what its score is worked out from; several of one ring among them. */
export function measuredRings(raster: Raster, settings: RingSettings): MeasuredRing[] {
  const source = levelsOf(raster, deepestLevel(settings))
  return ringSearches(source, settings).flatMap((search) =>
    ringsInWindow(source, search, { left: 0, top: 0, ...sizeAt(source, search.plan.level) }),
  )
}

export function deepestLevel(settings: RingSettings): number {
  return Math.max(...ringPlan(settings).map(({ level }) => level))
}
