import type { SpreadPlan } from '#core/cover'
import { sharedSimulations } from './shared-tiles.ts'
import { serve } from './worker-side.ts'

export interface SpreadInput {
  readonly plan: SpreadPlan
  readonly shares: Float64Array
  readonly next: Int32Array
}

/** One of several threads that take the simulated walks in turn. */
await serve<SpreadInput, null>(({ plan, shares, next }) => {
  sharedSimulations(plan, shares, next)
  return null
})
