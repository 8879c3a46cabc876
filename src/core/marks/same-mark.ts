/** Where a mark is and how large, in metres or pixels of one plane. */
export interface MarkPlace {
  readonly x: number
  readonly y: number
  readonly diameter: number
}

/** How far the middles of two sightings of one mark may lie apart, in shares of the larger diameter. */
const sameMiddle = 0.25
/** How much smaller the smaller may be, as a share of the larger. */
const sameDiameter = 0.25

/**
 * True where two sightings are taken for one mark: their middles within a quarter of the larger diameter, their diameters within
 * 25 % of it. A rule of our own: wide enough for two dates and their placing, narrow enough to leave a ring within a ring apart.
 */
export function isSameMark(a: MarkPlace, b: MarkPlace): boolean {
  const larger = Math.max(a.diameter, b.diameter)
  const apart = Math.hypot(a.x - b.x, a.y - b.y)
  return apart <= sameMiddle * larger && Math.abs(a.diameter - b.diameter) <= sameDiameter * larger
}
