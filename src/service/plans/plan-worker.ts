import type { LaneWishesGiven } from '#contract'
import { planarGrid } from '#core/geodesy'
import type { PlanarArea } from '#core/geometry'
import { ostn15, serve } from '#work'
import { type LanesOf, lanesOf } from '../lanes.ts'

export interface PlanInput {
  readonly area: PlanarArea
  readonly wishes: LaneWishesGiven
}

await serve<PlanInput, LanesOf>(({ area, wishes }) => lanesOf(area, planarGrid(area.epsg, ostn15()), wishes))
