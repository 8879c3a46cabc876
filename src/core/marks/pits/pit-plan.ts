import type { RingSettings, Tone } from '../candidate.ts'

/** Blobs of a range of sizes that are looked for at one level, and in which tones. */
export interface PitSearch {
  readonly level: number
  /** Pixels of the level. */
  readonly fromPx: number
  readonly toPx: number
  readonly tones: readonly Tone[]
}

/** Blobs up to this many pixels across are looked for at a level; the next one takes over at half of it. */
const widestAtLevel = 16
/** Diameter of the smallest blob that is more than a grain, pixels. */
const leastPitPx = 3

/**
 * Shares a range of diameters out over levels, so that every blob beyond the smallest is 8 to 16 pixels across at its own.
 * Faults: RangeError for a range that is empty or begins below 3 pixels.
 */
export function pitSearches({ minDiameterPx, maxDiameterPx, tone }: RingSettings): PitSearch[] {
  if (!(minDiameterPx >= leastPitPx && minDiameterPx <= maxDiameterPx && Number.isFinite(maxDiameterPx)))
    throw new RangeError(`no pits of ${minDiameterPx} to ${maxDiameterPx} pixels can be looked for`)
  const tones: readonly Tone[] = tone === 'either' ? ['dark', 'light'] : [tone]
  const searches: PitSearch[] = []
  for (let level = 0; ; level++) {
    const scale = 2 ** level
    const fromPx = Math.max(minDiameterPx / scale, level === 0 ? 0 : widestAtLevel / 2)
    const toPx = Math.min(maxDiameterPx / scale, widestAtLevel)
    if (toPx >= fromPx) searches.push({ level, fromPx, toPx, tones })
    if (maxDiameterPx / scale <= widestAtLevel) return searches
  }
}
