/**
 * The lattice of cells and where their centres are taken to lie.
 *
 * A cell counts as reached when its centre does. Planned lanes and drawn areas often run along the lattice, and then whole
 * rows of centres would lie exactly on the edge of a swath or an area: counted on both sides the swath would be a cell
 * too wide, and the last bits of the numbers would decide. So every centre is taken a few millionths of a cell east and
 * north of its true place, by two steps in the ratio of the root of two, so that no line along or slantwise to the lattice
 * runs through centres. At 0.1 m the step is 0.4 micrometres. Every edge is then counted on one side only.
 *
 * All places are held as a whole lattice number and a fraction in [0, 1), so sums do not depend on where the grid begins.
 */
export const centreEast = 0.5 + 3e-6 * Math.SQRT2
export const centreNorth = 0.5 + 3e-6

/** Where there is shared memory it is used, so that a plan handed to a thread is not copied. */
export function sharedBytes(length: number): ArrayBufferLike {
  return typeof SharedArrayBuffer === 'function' ? new SharedArrayBuffer(length) : new ArrayBuffer(length)
}
