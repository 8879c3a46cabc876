import { bearingOf, fieldEdge, mound, type Place, pondEdge, pondMiddle, scrapEdge } from './scenario.ts'
import { eased } from './soft-noise.ts'

/** Distance from a place to a line, metres; the line is closed where `closed` is true. */
export function distanceTo(line: readonly Place[], { u, v }: Place, closed = false): number {
  let nearest = Infinity
  for (let i = closed ? 0 : 1; i < line.length; i++) {
    const a = line[(i + line.length - 1) % line.length]!
    const b = line[i]!
    const du = b.u - a.u
    const dv = b.v - a.v
    const along = Math.max(0, Math.min(1, ((u - a.u) * du + (v - a.v) * dv) / (du * du + dv * dv)))
    nearest = Math.min(nearest, (u - a.u - along * du) ** 2 + (v - a.v - along * dv) ** 2)
  }
  return Math.sqrt(nearest)
}

/** Distance to the edge of a ring, below zero inside it. */
function depthIn(ring: readonly Place[], place: Place): number {
  let inside = false
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!
    if (a.v > place.v !== b.v > place.v && place.u < a.u + ((place.v - a.v) * (b.u - a.u)) / (b.v - a.v))
      inside = !inside
  })
  return distanceTo(ring, place, true) * (inside ? -1 : 1)
}

/** Distance to the hedge, below zero in the field. */
export const fromHedge = (place: Place): number => depthIn(fieldEdge, place)

/** Distance to the edge of the scrap, below zero in it. */
export const fromScrap = (place: Place): number => depthIn(scrapEdge, place)

const bank = pondEdge()
/** Distance to the bank of the pond, below zero in the water. Far from it, a distance that is too short but not near. */
export function fromPond(place: Place): number {
  const away = Math.hypot(place.u - pondMiddle.u, place.v - pondMiddle.v)
  return away > 2 * pondReach ? away - pondReach : depthIn(bank, place)
}
const pondReach = Math.max(...bank.map(({ u, v }) => Math.hypot(u - pondMiddle.u, v - pondMiddle.v)))

/** How far a place lies below a line that runs from west to east, down the slope: above zero below it. */
export function belowLine(line: readonly Place[], { u, v }: Place): number {
  const next = line.findIndex((place) => place.u > u)
  if (next <= 0) return (next === 0 ? line[0]! : line.at(-1)!).v - v
  const a = line[next - 1]!
  const b = line[next]!
  return a.v + ((u - a.u) / (b.u - a.u)) * (b.v - a.v) - v
}

/** 1 within `half` metres, 0 from `half + fade` on. */
export const within = (distance: number, half: number, fade: number): number =>
  1 - eased((distance - half) / fade)

/** How much of the ring ditch a place has, 0 to 1: its middle line a circle, with the gap. */
export function ditchShare(place: Place, half: number, fade: number): number {
  const { middle, ringDiameter, gapBearing, gapWidth } = mound
  const radius = Math.hypot(place.u - middle.u, place.v - middle.v)
  const offRing = Math.abs(radius - ringDiameter / 2)
  if (offRing > half + fade) return 0
  const turn = bearingOf(middle, place) - gapBearing
  const aside = (Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) * ringDiameter) / 2
  return within(offRing, half, fade) * eased((aside - gapWidth / 2 + 0.4) / 0.8)
}

/** How much of the cross of slots a place has, 0 to 1. */
export function slotShare(place: Place, half: number, fade: number): number {
  const { middle, slotBearings, slotLength } = mound
  const radius = Math.hypot(place.u - middle.u, place.v - middle.v)
  if (radius > slotLength) return 0
  const bearing = bearingOf(middle, place)
  return slotBearings.reduce((most, slot) => {
    const aside = Math.abs(radius * Math.sin(bearing - slot))
    const along = Math.abs(radius * Math.cos(bearing - slot))
    return Math.max(most, within(aside, half, fade) * within(along, slotLength / 2, fade))
  }, 0)
}
