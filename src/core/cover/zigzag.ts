/**
 * How much of the ground within the arc the coil senses as it is swept from side to side while its bearer walks on.
 *
 * One sweep is one crossing, left to right or back. With `a` the ground walked in one sweep and `D` the length of ground
 * sensed along the walk, only the ratio D / a matters: 2 or more leaves nothing out, even at the edge of the arc.
 */

/**
 * Share of ground sensed at the lateral place `u`: -1 the left edge of the arc, 0 its middle, 1 the right edge.
 *
 * Method  successive crossings of that place are by turns a (1 + u) and a (1 - u) apart, so
 *         q(u) = [min(D, a (1 + u)) + min(D, a (1 - u))] / (2 a).
 * Source  docs/methods/cover.md#the-zigzag
 * @example zigzagShare(0, 0.5) // 0.5: D = 0.25 m, one sweep a second, 0.5 m/s
 */
export function zigzagShare(u: number, ratio: number): number {
  return (Math.min(ratio, 1 + u) + Math.min(ratio, 1 - u)) / 2
}

/**
 * Share of ground sensed over the whole arc, the mean of `zigzagShare` over u: r - r^2 / 4 with r = D / a up to 2.
 * @example meanZigzagShare(1) // 0.75
 */
export function meanZigzagShare(ratio: number): number {
  const r = Math.min(2, ratio)
  return r - (r * r) / 4
}
