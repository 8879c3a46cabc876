/** Where a mark is and how large, in metres or pixels of one plane. */
export interface MarkPlace {
  readonly x: number
  readonly y: number
  readonly diameter: number
}

/** How far the middles of two sightings of one mark may lie apart, in shares of the larger diameter. */
export const sameMiddle = 0.25
/** How much smaller the smaller may be, as a share of the larger. */
export const sameDiameter = 0.25

/**
 * True where two sightings are taken for one mark: their middles within a quarter of the larger diameter, their diameters within
 * 25 % of it. A rule of our own: wide enough for two dates and their placing, narrow enough to leave a ring within a ring apart.
 */
export function isSameMark(a: MarkPlace, b: MarkPlace): boolean {
  const larger = Math.max(a.diameter, b.diameter)
  const apart = Math.hypot(a.x - b.x, a.y - b.y)
  return apart <= sameMiddle * larger && Math.abs(a.diameter - b.diameter) <= sameDiameter * larger
}

/** The one of `known` that is the same mark, the nearest where several are; null where none is. Cost: linear. */
export function knownMark<Known extends MarkPlace>(known: readonly Known[], seen: MarkPlace): Known | null {
  let [best, least] = [null as Known | null, Infinity]
  for (const mark of known) {
    const apart = Math.hypot(mark.x - seen.x, mark.y - seen.y)
    if (apart < least && isSameMark(mark, seen)) [best, least] = [mark, apart]
  }
  return best
}
