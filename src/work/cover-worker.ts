import type { CoverInput, CoverOutcome } from './cover-input.ts'
import { coverInStages } from './cover-stages.ts'
import { serve } from './worker-side.ts'

await serve<CoverInput, CoverOutcome>(coverInStages)
