import type { Random } from '#core/random'
import { belowLine, distanceTo, ditchShare, slotShare, within } from './field-shapes.ts'
import { droveway, mound, type Place, terrace, tramlines } from './scenario.ts'
import type { Season } from './season.ts'
import { softNoise } from './soft-noise.ts'

/** How well the crop stands at each place of the field, 0 to 1. */
export function cropVigour(season: Season, random: Random): (place: Place) => number {
  const soil = softNoise(random, 28, 17)
  const patches = softNoise(random, 5, 3.5)
  // Rows run along the contour: what the drill did is alike along them.
  const rows = softNoise(random, 9, 0.7)
  const leaves = softNoise(random, 0.6, 0.5)
  const roots = softNoise(random, 4, 4)
  return (place) => {
    const { vigour, wander, ditchGain, soilGain } = season
    const buried = Math.max(
      ditchShare(place, mound.ditchWidth / 2 - 0.35, 0.8),
      0.8 * slotShare(place, mound.slotWidth / 2 - 0.1, 0.5),
    )
    const uneven = Math.max(0.35, 1 + 0.22 * roots(place))
    const below = belowLine(terrace.line, place)
    // Soil is deep above the edge of the terrace and in the droveway's hollow, thin on the bank and on the trodden sides.
    const depth =
      0.9 * within(Math.abs(below + 7), 3, 6) -
      1.1 * within(Math.abs(below - 2), 1.5, 2.5) +
      drovewayDepth(distanceTo(droveway.line, place))
    return (
      vigour +
      wander * (0.6 * soil(place) + 0.45 * patches(place) + 0.35 * rows(place) + 0.3 * leaves(place)) +
      ditchGain * uneven * buried +
      soilGain * depth
    )
  }
}

const drovewayDepth = (distance: number): number =>
  0.5 * within(distance, droveway.width / 4, 2) -
  0.5 * within(Math.abs(distance - droveway.width / 2), 0.6, 1.2)

/** How much of a wheel track a place has, 0 to 1: pairs along the contour, and one pair round the headland. */
export function wheelShare(place: Place, insideHedge: number): number {
  const { every, from, gauge, wheel } = tramlines
  const fade = 0.3
  const track = (aside: number): number => within(Math.abs(Math.abs(aside) - gauge / 2), wheel / 2, fade)
  const headland = every / 2
  if (insideHedge < headland - 3) return 0
  const aside = ((((place.v - from) % every) + 1.5 * every) % every) - every / 2
  const along = insideHedge > headland ? track(aside) : 0
  return Math.max(along, track(insideHedge - headland))
}
