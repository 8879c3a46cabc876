import type { MarkSearch } from '#contract'
import { type FoundMarks, linesInThreads, pitsInThreads, ringsInThreads, type WorkOptions } from '#work'
import type { FoundCandidate } from './candidate-facts.ts'
import type { RasterPlace } from './layer-raster.ts'

/** Who looks for marks of each kind. */
export interface MarkFinders {
  readonly ring: typeof ringsInThreads
  readonly pit: typeof pitsInThreads
  /** Finds enclosures too. */
  readonly line: typeof linesInThreads
}

export const usualFinders: MarkFinders = { ring: ringsInThreads, pit: pitsInThreads, line: linesInThreads }

/**
 * Looks for what a search asks for on a file of blocks that shows the layer. Faults: those of the finders; SurveyError 'cancelled'.
 */
export async function findMarks(
  finders: MarkFinders,
  search: MarkSearch,
  blocks: string,
  { columns, rows, pixelM }: RasterPlace,
  options: WorkOptions,
): Promise<FoundMarks<FoundCandidate>> {
  const raster = { blocks, columns, rows }
  const { tone, most } = search
  if (search.kind === 'line') {
    const settings = {
      minWidthPx: search.minWidthM / pixelM,
      maxWidthPx: search.maxWidthM / pixelM,
      leastLengthPx: search.leastLengthM / pixelM,
      tone,
      most,
      pixelM,
    }
    return finders.line({ ...raster, settings }, options)
  }
  const { kind, minDiameterM, maxDiameterM } = search
  const settings = { minDiameterPx: minDiameterM / pixelM, maxDiameterPx: maxDiameterM / pixelM, tone, most }
  if (kind === 'ring') {
    const { candidates, flat } = await finders.ring({ ...raster, settings }, options)
    return { candidates: candidates.map((each) => ({ kind, ...each })), flat }
  }
  const { candidates, flat } = await finders.pit({ ...raster, settings }, options)
  return { candidates: candidates.map((each) => ({ kind, ...each })), flat }
}
