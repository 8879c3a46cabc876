/**
 * Indices of green growth from the brightness of single bands. They were defined on reflectance; the numbers of an ordinary photograph
 * are not that, so values of different pictures do not compare. NaN where the sum below the line is not above 0.
 */

/**
 * Green-red vegetation index, (G - R) / (G + R), from -1 to 1.
 * Source: Tucker 1979, Remote Sensing of Environment 8, 127 to 150; named GRVI and compared by Motohka et al. 2010, Remote Sensing 2, 2369 to 2387.
 *
 * @example greenRedIndex(120, 80) // 0.2
 */
export function greenRedIndex(green: number, red: number): number {
  return ratio(green - red, green + red)
}

/**
 * Visible atmospherically resistant index, (G - R) / (G + R - B): the blue band takes away what haze adds. Has no bounds: where blue is
 * nearly as bright as green and red together it grows very large.
 * Source: Gitelson, Kaufman, Stark and Rundquist 2002, Remote Sensing of Environment 80, 76 to 87.
 *
 * @example visibleAtmosphericIndex(120, 80, 40) // 0.25
 */
export function visibleAtmosphericIndex(green: number, red: number, blue: number): number {
  return ratio(green - red, green + red - blue)
}

/**
 * Normalised difference vegetation index, (N - R) / (N + R), from -1 to 1.
 * Source: Rouse, Haas, Schell and Deering 1974, Third ERTS Symposium, NASA SP-351 I, 309 to 317.
 *
 * @example normalisedDifferenceIndex(150, 50) // 0.5
 */
export function normalisedDifferenceIndex(nearInfrared: number, red: number): number {
  return ratio(nearInfrared - red, nearInfrared + red)
}

const ratio = (above: number, below: number): number => (below > 0 ? above / below : Number.NaN)
