import { betweenNodes, type TilePlace } from './tile-place.ts'

const levels = 256
/** Times that contrast may grow (our choice; 1 leaves a picture as it is). */
const usualGrowth = 3
/** A region is never smaller than so many overview pixels a side, and there are never more regions across or down. */
const leastSide = 32
const mostRegions = 64
/** A region of fewer pixels is filled up to so many with the histogram of the whole image. */
const fewPixels = 512

/** For each region of the overview, left to right and top to bottom: what each of 256 levels of brightness becomes. */
export interface Equalisation {
  /** Size of the overview, pixels. */
  readonly columns: number
  readonly rows: number
  /** Regions across and down. */
  readonly across: number
  readonly down: number
  /** 256 values a region, from -0.5 to 255.5, never falling. */
  readonly mappings: Float32Array
}

/**
 * Contrast-limited adaptive histogram equalisation: the image is parted into regions, brightness in each is mapped by its cumulative
 * histogram after that histogram has been cut off at `growth` times its mean, and between the middles of regions the mappings are blended
 * bilinearly.
 *
 * What was cut off is spread over all levels evenly so that none passes the limit: the level added is found exactly, where the original raises
 * it step by step. The mapping takes half of a level's own count, so that an even histogram changes nothing.
 *
 * Units   `brightness` 0 to 255, one value a pixel; `side` overview pixels.
 * Source  Zuiderveld 1994, Contrast limited adaptive histogram equalization, Graphics Gems IV, 474 to 485.
 * Cost    one pass, and a sort of 256 counts a region.
 * Faults  RangeError for a side that is not above 0 or a growth below 1.
 */
export function equalisation(
  brightness: ArrayLike<number>,
  alpha: Uint8Array,
  size: { readonly columns: number; readonly rows: number },
  side: number,
  growth: number = usualGrowth,
): Equalisation {
  if (!(side > 0)) throw new RangeError(`a region needs a side above 0, got ${side}`)
  if (!(growth >= 1)) throw new RangeError(`contrast may grow 1 times or more, got ${growth}`)
  const { columns, rows } = size
  const regions = (length: number): number =>
    Math.max(1, Math.min(mostRegions, Math.round(length / Math.max(side, leastSide))))
  const [across, down] = [regions(columns), regions(rows)]
  const counts = new Float64Array(across * down * levels)
  const whole = new Float64Array(levels)
  for (let row = 0, i = 0; row < rows; row++) {
    const regionRow = Math.floor(((row + 0.5) * down) / rows) * across
    for (let column = 0; column < columns; column++, i++) {
      if (alpha[i] === 0) continue
      const level = Math.max(0, Math.min(levels - 1, Math.round(brightness[i]!)))
      counts[(regionRow + Math.floor(((column + 0.5) * across) / columns)) * levels + level]! += 1
      whole[level]! += 1
    }
  }
  const mappings = new Float32Array(counts.length)
  for (let at = 0; at < counts.length; at += levels) {
    const region = counts.subarray(at, at + levels)
    fillUp(region, whole)
    mappings.set(mappingOf(cutOff(region, growth)), at)
  }
  return { columns, rows, across, down, mappings }
}

const sumOf = (counts: Float64Array): number => counts.reduce((sum, count) => sum + count, 0)

function fillUp(region: Float64Array, whole: Float64Array): void {
  const missing = fewPixels - sumOf(region)
  const all = sumOf(whole)
  if (missing <= 0 || all === 0) return
  for (let level = 0; level < levels; level++) region[level]! += (missing * whole[level]!) / all
}

/** Cuts counts off at `growth` times their mean and spreads what was cut so that the sum stays and no count passes that limit. */
export function cutOff(counts: Float64Array, growth: number): Float64Array {
  const total = sumOf(counts)
  const limit = (growth * total) / counts.length
  // sum of min(count + added, limit) grows with `added` in straight pieces; counts from the greatest down reach the limit in turn.
  const sorted = Float64Array.from(counts, (count) => Math.min(count, limit)).sort()
  let full = 0
  let below = sumOf(sorted)
  let added = (total - below) / sorted.length
  for (let i = sorted.length - 1; i > 0 && sorted[i]! + added > limit; i--) {
    full += 1
    below -= sorted[i]!
    added = (total - full * limit - below) / (sorted.length - full)
  }
  return counts.map((count) => Math.min(Math.min(count, limit) + added, limit))
}

/** The cumulative share at the middle of each level, as a level; level for level the same where there are no counts. */
function mappingOf(counts: Float64Array): Float32Array {
  const total = sumOf(counts)
  const out = new Float32Array(levels)
  let below = 0
  for (let level = 0; level < levels; level++) {
    const count = total > 0 ? counts[level]! / total : 1 / levels
    out[level] = levels * (below + count / 2) - 0.5
    below += count
  }
  return out
}

/** Brightness (within half a level of 0 to 255) of a tile's pixels after equalisation. Levels between whole ones are blended too. */
export function equalised(
  brightness: ArrayLike<number>,
  tile: { readonly columns: number; readonly rows: number },
  { columns, rows, across, down, mappings }: Equalisation,
  place: TilePlace,
): Float64Array {
  const nodes = (count: number, length: number) => ({
    count,
    firstAt: length / count / 2,
    perNode: length / count,
  })
  const x = betweenNodes(tile.columns, place.column, place.stepX, place.left ?? 0, nodes(across, columns))
  const y = betweenNodes(tile.rows, place.row, place.stepY, place.top ?? 0, nodes(down, rows))
  const out = new Float64Array(tile.columns * tile.rows)
  for (let row = 0, i = 0; row < tile.rows; row++) {
    const upper = y.before[row]! * across
    const lower = y.after[row]! * across
    const wy = y.share[row]!
    for (let column = 0; column < tile.columns; column++, i++) {
      const value = Math.max(0, Math.min(255, brightness[i]!))
      const level = Math.min(254, Math.floor(value))
      const part = value - level
      const left = x.before[column]! * levels + level
      const right = x.after[column]! * levels + level
      const wx = x.share[column]!
      const [ul, ur] = [upper * levels + left, upper * levels + right]
      const [ll, lr] = [lower * levels + left, lower * levels + right]
      const at = (p: number): number => mappings[p]! + part * (mappings[p + 1]! - mappings[p]!)
      const above = at(ul) + wx * (at(ur) - at(ul))
      const under = at(ll) + wx * (at(lr) - at(ll))
      out[i] = above + wy * (under - above)
    }
  }
  return out
}
