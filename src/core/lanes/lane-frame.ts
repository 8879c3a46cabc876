import { boundsOf, type Polygon, pointInPolygon, ringArea } from '#core/geometry'

/** A frame whose u axis runs along the lanes and whose v axis runs to their left, from an origin amid the ground. */
export interface LaneFrame {
  readonly originX: number
  readonly originY: number
  /** Unit vector of u: sine and cosine of the bearing. */
  readonly ux: number
  readonly uy: number
}

/** The frame of lanes along a bearing, degrees clockwise from grid north. */
export function laneFrame(bearing: number, originX: number, originY: number): LaneFrame {
  const quarter = bearing / 90
  // Sines of whole quarters are not exactly 0 and 1, and fields along the grid are common.
  const [ux, uy] = Number.isInteger(quarter)
    ? [[0, 1, 0, -1][((quarter % 4) + 4) % 4]!, [1, 0, -1, 0][((quarter % 4) + 4) % 4]!]
    : [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)]
  return { originX, originY, ux, uy }
}

/** Corners of a ring in the frame, without corners that repeat the one before, closed. */
function ringInFrame(ring: Float64Array, { originX, originY, ux, uy }: LaneFrame): Float64Array {
  const out = new Float64Array(ring.length + 2)
  let length = 0
  for (let i = 0; i + 1 < ring.length; i += 2) {
    const x = ring[i]! - originX
    const y = ring[i + 1]! - originY
    const u = x * ux + y * uy
    const v = y * ux - x * uy
    if (length > 0 && out[length - 2] === u && out[length - 1] === v) continue
    out[length++] = u
    out[length++] = v
  }
  if (length >= 2 && (out[0] !== out[length - 2] || out[1] !== out[length - 1])) {
    out[length++] = out[0]!
    out[length++] = out[1]!
  }
  return out.slice(0, length)
}

/** Turns pairs of the frame back into eastings and northings, in place. */
export function outOfFrame(uv: Float64Array, { originX, originY, ux, uy }: LaneFrame): void {
  for (let i = 0; i + 1 < uv.length; i += 2) {
    const u = uv[i]!
    const v = uv[i + 1]!
    uv[i] = originX + (u * ux - v * uy)
    uv[i + 1] = originY + (u * uy + v * ux)
  }
}

/**
 * Rings in the frame. With `wind`, a ring within an even number of others runs counter-clockwise and one within an odd number, a hole,
 * clockwise, so that the ground by the even-odd rule is on the left; that needs rings which do not cross.
 */
export function ringsInFrame({ rings }: Polygon, frame: LaneFrame, wind: boolean): Float64Array[] {
  const turned = rings.map((ring) => ringInFrame(ring, frame)).filter((ring) => ring.length >= 8)
  if (!wind) return turned
  const bounds = turned.map(boundsOf)
  return turned.map((ring, r) => {
    // The middle of an edge: a corner may touch another ring.
    const [u, v] = [(ring[0]! + ring[2]!) / 2, (ring[1]! + ring[3]!) / 2]
    const around = turned.filter((other, o) => {
      const { minX, minY, maxX, maxY } = bounds[o]!
      const near = o !== r && u >= minX && u <= maxX && v >= minY && v <= maxY
      return near && pointInPolygon(u, v, { rings: [other] })
    })
    return ringArea(ring) > 0 === (around.length % 2 === 0) ? ring : backwards(ring)
  })
}

function backwards(ring: Float64Array): Float64Array {
  const out = new Float64Array(ring.length)
  for (let i = 0; i < ring.length; i += 2) {
    out[i] = ring[ring.length - 2 - i]!
    out[i + 1] = ring[ring.length - 1 - i]!
  }
  return out
}
