import { type VisitWalk, type VisitWalkInput, visitWalk } from './visit-walk.ts'
import { serve } from './worker-side.ts'

await serve<VisitWalkInput, VisitWalk>(visitWalk)
