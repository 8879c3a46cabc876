import type { CoverPlan, CoverTally } from '#core/cover'
import { coverSharedTiles } from './shared-tiles.ts'
import { serve } from './worker-side.ts'

export interface TileInput {
  readonly plan: CoverPlan
  readonly passes: Uint8Array
  readonly next: Int32Array
}

/** One of several threads that take the tiles of a cover in turn. */
await serve<TileInput, CoverTally>(({ plan, passes, next }) => coverSharedTiles(plan, passes, next))
