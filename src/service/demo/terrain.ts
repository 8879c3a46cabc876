import { normal, seededRandom } from '#core/random'
import { belowLine, distanceTo, ditchShare, fromHedge, fromPond, slotShare, within } from './field-shapes.ts'
import { eachCell, type Frame } from './raster-frame.ts'
import { droveway, lane, loneTrees, mound, type Place, pondMiddle, slopeHeight, terrace } from './scenario.ts'
import { eased, softNoise } from './soft-noise.ts'

export const terrainFrame: Frame = { west: 558_356, north: 347_624, columns: 304, rows: 242, cellM: 1 }

/** Beyond this strip nothing was measured. */
const measured = { u: [-124, 140], v: [-86, 86] } as const

/** What is left of the earthworks after half a century of ploughing, metres. */
const moundHeight = 0.18
const ditchDepth = 0.13
const slotDepth = 0.12
const drovewayDepth = 0.35

/** Ridges of the plough, along the contour. */
const ridges = { every: 6, heightM: 0.035 } as const

/**
 * Heights of the field and what lies round it, metres, from a seed: 1 m cells in `terrainFrame`, NaN beyond the measured strip. As from an
 * airborne laser in winter with trees and hedges taken off, which leaves some of them.
 */
export function terrainHeights(seed: number): Float32Array {
  const random = seededRandom(seed)
  const swell = softNoise(random, 45, 30)
  const rough = softNoise(random, 2.2, 2.2)
  const brush = softNoise(random, 1.6, 1.6)
  const heights = new Float32Array(terrainFrame.columns * terrainFrame.rows).fill(Number.NaN)
  eachCell(terrainFrame, (place, cell) => {
    const grain = normal(random)
    if (!isMeasured(place)) return
    const hedge = Math.abs(fromHedge(place))
    const growth = Math.max(within(hedge, 0.8, 1.6), ...loneTrees.map((tree) => underTree(place, tree)))
    const bare = onWater(place, slopeHeight(place) + 0.08 * swell(place) + worked(place))
    heights[cell] = bare + 0.018 * grain + 0.02 * rough(place) + growth * (0.18 + 0.22 * brush(place))
  })
  return heights
}

const isMeasured = ({ u, v }: Place): boolean =>
  u >= measured.u[0] && u <= measured.u[1] && v >= measured.v[0] && v <= measured.v[1]

function underTree(place: Place, { middle, radius }: (typeof loneTrees)[number]): number {
  return within(Math.hypot(place.u - middle.u, place.v - middle.v), radius / 2, radius / 2)
}

/** What people have made of the slope at a place, metres. */
function worked(place: Place): number {
  const inField = eased(-fromHedge(place) / 3)
  const { middle, ringDiameter } = mound
  const fromMiddle = Math.hypot(place.u - middle.u, place.v - middle.v)
  const earthwork =
    moundHeight * (1 - eased((fromMiddle - 3) / (ringDiameter / 2 - 3))) -
    ditchDepth * ditchShare(place, 0.5, 1.7) -
    slotDepth * slotShare(place, 0.3, 0.9)
  // Ploughed soil creeps to the edge of the terrace and stops there: up over 14 m, down over the width of the bank.
  const below = belowLine(terrace.line, place)
  const onBank = eased((2 * Math.abs(below)) / terrace.widthM)
  const farOff = eased((Math.abs(below) - terrace.widthM / 2) / 14)
  const bank = (-Math.sign(below) * terrace.heightM * onBank * (1 - farOff)) / 2
  const hollow =
    drovewayDepth * within(distanceTo(droveway.line, place), droveway.width / 4, droveway.width / 3)
  const ridge = ridges.heightM * Math.cos((2 * Math.PI * place.v) / ridges.every)
  const track = 0.15 * within(distanceTo(lane.line, place), lane.width / 2, 1)
  return earthwork + inField * (bank + ridge) - hollow - track
}

/** The pond lies level, half a metre below its lower bank. */
function onWater(place: Place, height: number): number {
  const beyond = fromPond(place)
  if (beyond > 1.5) return height
  const level = slopeHeight({ u: pondMiddle.u, v: pondMiddle.v - 8 }) - 0.5
  return level + (height - level) * eased((beyond + 0.5) / 2)
}
