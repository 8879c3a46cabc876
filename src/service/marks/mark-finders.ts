import type { MarkSearch } from '#contract'
import { SurveyError } from '#core/faults'
import type { LineCandidate, LineSettings } from '#core/marks'
import { type FoundMarks, type MarksInput, pitsInThreads, ringsInThreads, type WorkOptions } from '#work'
import type { FoundCandidate } from './candidate-facts.ts'
import type { RasterPlace } from './layer-raster.ts'

/** Looks for lines and enclosures in threads, on a file of blocks. */
type LinesInThreads = (
  input: MarksInput<LineSettings>,
  options: WorkOptions,
) => Promise<FoundMarks<LineCandidate>>

/** Who looks for marks of each kind. */
export interface MarkFinders {
  readonly ring: typeof ringsInThreads
  readonly pit: typeof pitsInThreads
  /** Null while nothing here can look for lines. */
  readonly line: LinesInThreads | null
}

export const usualFinders: MarkFinders = { ring: ringsInThreads, pit: pitsInThreads, line: null }

/**
 * Looks for what a search asks for on a file of blocks that shows the layer. Faults: those of the finders; SurveyError 'cancelled';
 * 'unsupported-feature' for a kind that has no finder.
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
    }
    return linesFinder(finders)({ ...raster, settings }, options)
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

/** Faults: SurveyError 'unsupported-feature' where lines cannot be looked for. */
export function linesFinder({ line }: MarkFinders): LinesInThreads {
  if (line) return line
  throw new SurveyError('unsupported-feature', 'Lines cannot be looked for yet; draw them by hand.')
}
