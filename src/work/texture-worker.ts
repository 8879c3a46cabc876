import { type PloughBearing, ploughBearing, type TextureChip } from '#core/lanes'
import { serve } from './worker-side.ts'

await serve<TextureChip, PloughBearing>(ploughBearing)
