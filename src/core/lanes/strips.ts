import { SurveyError } from '#core/faults'

/** Strips one spacing wide that together span some ground, with the stretches of their middle lines that lie on it. */
export interface Strips {
  readonly spacing: number
  /** The lower edge of strip 0. */
  readonly low: number
  readonly count: number
  /** Strip k owns the stretches `first[k]` up to `first[k + 1]`, west to east in u. */
  readonly first: Uint32Array
  /** Ends of each stretch in u. */
  readonly from: Float64Array
  readonly to: Float64Array
}

/** More middle lines than this are not laid: at 1 m that would be ground 2,000 km wide. */
const mostStrips = 2_000_000
/** More crossings of middle lines and outline than this are not sorted. */
const mostCrossings = 20_000_000

/** Height of the middle line of strip k. */
export const middleOf = (low: number, spacing: number, k: number): number => low + (k + 0.5) * spacing

/**
 * Cuts the middle lines of strips by an outline, by the even-odd rule. The strips are centred on the ground, so what is left over is
 * the same at both sides and never as much as half a spacing.
 *
 * Shape   closed rings of u, v pairs.
 * Method  every edge is met by the middle lines from its lower end up to, not including, its upper end; the meetings of a line are
 *         sorted and paired.
 * Cost    linear in edges and crossings, plus sorting the crossings of each line.
 * Faults  SurveyError('setting-out-of-range') where the spacing is too narrow for the ground.
 */
export function layStrips(rings: readonly Float64Array[], spacing: number): Strips {
  let least = Infinity
  let most = -Infinity
  for (const ring of rings) {
    for (let i = 1; i < ring.length; i += 2) {
      if (ring[i]! < least) least = ring[i]!
      if (ring[i]! > most) most = ring[i]!
    }
  }
  const count = most > least ? Math.max(1, Math.ceil((most - least) / spacing - 1e-9)) : 0
  if (count > mostStrips) throw tooNarrow(spacing, count)
  const low = (least + most) / 2 - (count * spacing) / 2
  const line = (v: number): number => Math.min(count, Math.max(0, Math.ceil((v - low) / spacing - 0.5)))
  const met = new Uint32Array(count + 1)
  let crossings = 0
  for (const ring of rings) {
    for (let i = 0; i + 3 < ring.length; i += 2) {
      const a = line(ring[i + 1]!)
      const b = line(ring[i + 3]!)
      crossings += Math.abs(a - b)
      for (let k = Math.min(a, b); k < Math.max(a, b); k++) met[k + 1]!++
    }
    if (crossings > mostCrossings) throw tooNarrow(spacing, crossings / 2)
  }
  for (let k = 0; k < count; k++) met[k + 1]! += met[k]!
  const at = new Float64Array(crossings)
  const filled = met.slice()
  for (const ring of rings) {
    for (let i = 0; i + 3 < ring.length; i += 2) {
      const a = line(ring[i + 1]!)
      const b = line(ring[i + 3]!)
      for (let k = Math.min(a, b); k < Math.max(a, b); k++)
        at[filled[k]!++] = crossingAt(ring, i, middleOf(low, spacing, k))
    }
  }
  return { spacing, low, count, ...paired(met, at, count) }
}

/** Where the edge from corner `i` to the next reaches the height `v`; from its lower end, so that its direction does not matter. */
export function crossingAt(ring: Float64Array, i: number, v: number): number {
  const lower = ring[i + 1]! <= ring[i + 3]! ? i : i + 2
  const upper = lower === i ? i + 2 : i
  const share = (v - ring[lower + 1]!) / (ring[upper + 1]! - ring[lower + 1]!)
  return ring[lower]! + share * (ring[upper]! - ring[lower]!)
}

function paired(met: Uint32Array, at: Float64Array, count: number): Pick<Strips, 'first' | 'from' | 'to'> {
  const first = new Uint32Array(count + 1)
  const from = new Float64Array(at.length >> 1)
  const to = new Float64Array(at.length >> 1)
  let length = 0
  for (let k = 0; k < count; k++) {
    first[k] = length
    const line = at.subarray(met[k], met[k + 1])
    if (line.length > 2) line.sort()
    for (let i = 0; i + 1 < line.length; i += 2) {
      const a = Math.min(line[i]!, line[i + 1]!)
      const b = Math.max(line[i]!, line[i + 1]!)
      if (!(b > a)) continue
      from[length] = a
      to[length++] = b
    }
  }
  first[count] = length
  return { first, from: from.subarray(0, length), to: to.subarray(0, length) }
}

function tooNarrow(spacing: number, lanes: number): SurveyError {
  return new SurveyError(
    'setting-out-of-range',
    `Lanes ${spacing} m apart would be about ${Math.round(lanes).toLocaleString('en-GB')} lanes here, more than can be planned; use a wider spacing or a smaller area.`,
  )
}
