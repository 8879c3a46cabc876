import { normal, type Random, uniform, unit } from '#core/random'
import { droveway, fieldEdge, mound, type Place, pondEdge, slope } from './scenario.ts'
import { crossingsOf } from './walk-path.ts'

export type Setting = 'mound' | 'droveway' | 'field'

/** Something lying in the ploughsoil: where it lies now, how deep, and what it was lost beside. */
export interface Buried {
  readonly place: Place
  readonly depthM: number
  readonly setting: Setting
}

/** How many things lie in the field: with the two walks some sixty of them are found. */
const buriedCount = 100

/**
 * Mean step down the slope since the mound was ploughed out: transport coefficient over soil density and plough depth,
 * k S / (rho h), with k 600 kg a metre a year, rho 1350 kg/m3, h 0.25 m (Van Oost et al. 2006), over fifty years.
 */
const driftM = (50 * 600 * slope) / (1350 * 0.25)

/** What the fair left: round the mound, along the droveway, and a little anywhere; then half a century of ploughing. */
export function buriedThings(random: Random): Buried[] {
  const things: Buried[] = []
  while (things.length < buriedCount) {
    const setting = drawnSetting(random)
    const lost = lostAt(setting, random)
    const place = {
      u: lost.u + 1.8 * normal(random),
      v: lost.v - driftM + 0.45 * driftM * normal(random),
    }
    const depthM = uniform(random, 0.04, 0.24)
    if (isOnField(place)) things.push({ place, depthM, setting })
  }
  return things
}

function drawnSetting(random: Random): Setting {
  const share = unit(random)
  if (share < 0.46) return 'mound'
  return share < 0.86 ? 'droveway' : 'field'
}

function lostAt(setting: Setting, random: Random): Place {
  if (setting === 'mound') {
    const angle = uniform(random, 0, 2 * Math.PI)
    const radius = Math.abs(mound.ringDiameter / 2 + 1.5 + 4.5 * normal(random))
    return { u: mound.middle.u + radius * Math.cos(angle), v: mound.middle.v + radius * Math.sin(angle) }
  }
  if (setting === 'droveway') {
    const { line, width } = droveway
    const leg = uniform(random, 0, line.length - 1)
    const a = line[Math.floor(leg)]!
    const b = line[Math.floor(leg) + 1]!
    const share = leg % 1
    const aside = (width / 2 + 1) * normal(random)
    return { u: a.u + share * (b.u - a.u), v: a.v + share * (b.v - a.v) + aside }
  }
  return { u: uniform(random, -107, 98), v: uniform(random, -70, 69) }
}

/** Inside the hedge and off the pond. */
export function isOnField(place: Place): boolean {
  return isInside(fieldEdge, place) && !isInside(pondEdge(), place)
}

function isInside(ring: readonly Place[], { u, v }: Place): boolean {
  return crossingsOf(ring, v).filter((crossing) => crossing < u).length % 2 === 1
}
