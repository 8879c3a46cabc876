import { type LanesWalked, type LanesWalkedInput, lanesWalked } from './lanes-walked.ts'
import { serve } from './worker-side.ts'

await serve<LanesWalkedInput, LanesWalked>(lanesWalked)
