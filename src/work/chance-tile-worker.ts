import type { ChancePlan } from '#core/cover'
import { chanceSharedTiles } from './shared-tiles.ts'
import { serve } from './worker-side.ts'

export interface ChanceTileInput {
  readonly prepared: ChancePlan
  readonly worked: Float32Array
  readonly next: Int32Array
}

/** One of several threads that take the tiles of chances in turn. */
await serve<ChanceTileInput, null>(({ prepared, worked, next }) => {
  chanceSharedTiles(prepared, worked, next)
  return null
})
