import { seededRandom } from '#core/random'
import type { RingSettings, Tone } from '../candidate.ts'
import { flatten } from '../ground/flatten.ts'
import { type LevelSource, type LevelWindow, sizeAt } from '../ground/levels.ts'
import { ridgeReach } from '../ground/ridges.ts'
import { arcsSeen, ellipticityOf, ringFeatures } from './ring-features.ts'
import { type FittedRing, fitRing } from './ring-fit.ts'
import { flatReach, measureGround, type RingGround, scaledWindow, signed } from './ring-ground.ts'
import { kernelMargin } from './ring-kernels.ts'
import { type RingLevel, ringPlan } from './ring-plan.ts'
import { ringProposals } from './ring-proposals.ts'
import { logOdds } from './ring-score.ts'
import { widths } from './ring-sectors.ts'

/** A ring with what its score is worked out from. Pixels of the whole image. */
export interface MeasuredRing {
  readonly x: number
  readonly y: number
  readonly diameter: number
  readonly ditchWidth: number
  readonly tone: Tone
  readonly seen: Uint8Array
  readonly ellipticity: number
  readonly contrast: number
  readonly features: Float64Array
  /** Of being a ring, by the model. */
  readonly logOdds: number
}

/** One sort of search over an image: a level, a tone and what the ground is like. */
export interface RingSearch {
  readonly plan: RingLevel
  readonly tone: Tone
  readonly ground: RingGround
}

/**
 * Least evidence at the first look, after the first climb, and in the end. Of 1400 fits on rings of the training scenes 6 had less than the last; a third of all
 * other fits had.
 */
const least = { look: 7, climbed: 14, end: 16 }

/** What is to be searched for, the ground not yet measured. */
export type PlannedSearch = Pick<RingSearch, 'plan' | 'tone'>

export function plannedSearches(settings: RingSettings): PlannedSearch[] {
  const tones: Tone[] = settings.tone === 'either' ? ['dark', 'light'] : [settings.tone]
  return ringPlan(settings).flatMap((plan) => tones.map((tone) => ({ plan, tone })))
}

/** A planned search with its ground; null where that is flat or without data. The same in whichever thread. */
export function searchOn(source: LevelSource, { plan, tone }: PlannedSearch): RingSearch | null {
  const ground = measureGround(source, plan, tone === 'dark' ? -1 : 1, seededRandom(1))
  return ground && { plan, tone, ground }
}

export function ringSearches(source: LevelSource, settings: RingSettings): RingSearch[] {
  return plannedSearches(settings).flatMap((planned) => searchOn(source, planned) ?? [])
}

/** How far a fit may move a centre, pixels of the level. */
const fitSlack = 12

/** Places looked at closely, a million pixels of the level, at most: only ground without grain comes near it. */
const mostPlacesAMpx = 6000

/**
 * Everything within `core`, a window of the search's level, that may be a ring; the `most` highest of the map where there are more. What is found at a
 * place does not depend on the window.
 */
export function ringsInWindow(
  source: LevelSource,
  search: RingSearch,
  core: LevelWindow,
  most = Math.ceil((mostPlacesAMpx * core.columns * core.rows) / 1e6) + 100,
): MeasuredRing[] {
  const { plan, tone, ground } = search
  const sign = tone === 'dark' ? -1 : 1
  const reach = flatReach + ridgeReach + Math.ceil(Math.max(...plan.radii)) + kernelMargin + fitSlack + 4
  const whole = sizeAt(source, plan.level)
  const left = Math.max(0, core.left - reach)
  const top = Math.max(0, core.top - reach)
  const window: LevelWindow = {
    left,
    top,
    columns: Math.min(whole.columns, core.left + core.columns + reach) - left,
    rows: Math.min(whole.rows, core.top + core.rows + reach) - top,
  }
  const flat = flatten(signed(source.read(plan.level, window), sign), ground.leastSpread)
  const asked = {
    left: core.left - left - fitSlack,
    top: core.top - top - fitSlack,
    columns: core.columns + 2 * fitSlack,
    rows: core.rows + 2 * fitSlack,
  }
  const proposals = ringProposals(flat, ground, asked).filter(({ x, y }) =>
    inside(core, Math.floor(x) + left, Math.floor(y) + top, fitSlack),
  )
  if (proposals.length > most) proposals.sort((a, b) => b.height - a.height).length = most
  const scale = 2 ** (plan.level - plan.look)
  const near = signed(source.read(plan.look, scaledWindow(window, scale)), sign)
  const toWhole = 2 ** plan.look
  const found: MeasuredRing[] = []
  for (const proposal of proposals) {
    const [px, py] = [Math.floor(proposal.x), Math.floor(proposal.y)]
    const spread = flat.spread[py * window.columns + px]!
    const noise = (radius: number, width: number): number =>
      spread * arcNoiseAt(ground, plan, radius / scale, width)
    const fitted = fitRing(
      near,
      { x: proposal.x * scale, y: proposal.y * scale, radius: proposal.radius * scale },
      noise,
      least,
    )
    if (!fitted || fitted.evidence < least.end) continue
    if (!inside(core, fitted.x / scale + left, fitted.y / scale + top, 0)) continue
    const features = ringFeatures(fitted, noise(fitted.radius, fitted.width), {
      height: proposal.height,
      radius: fitted.radius,
    })
    found.push({
      x: (fitted.x + left * scale) * toWhole,
      y: (fitted.y + top * scale) * toWhole,
      diameter: 2 * fitted.radius * toWhole,
      ditchWidth: widths[fitted.width]! * toWhole,
      tone,
      seen: arcsSeen(fitted.arcs),
      ellipticity: ellipticityOf(fitted),
      contrast: contrastOf(fitted, noise(fitted.radius, fitted.width) / spread),
      features,
      logOdds: logOdds(features),
    })
  }
  return found
}

function contrastOf({ arcs }: FittedRing, noiseInSpreads: number): number {
  const present = [...arcs].filter((t) => !Number.isNaN(t)).sort((a, b) => b - a)
  const better = present.slice(0, Math.ceil(present.length / 2))
  return (better.reduce((sum, t) => sum + t, 0) / Math.max(1, better.length)) * noiseInSpreads
}

function inside({ left, top, columns, rows }: LevelWindow, x: number, y: number, slack: number): boolean {
  return x >= left - slack && y >= top - slack && x < left + columns + slack && y < top + rows + slack
}

function arcNoiseAt({ arcNoise }: RingGround, { radii }: RingLevel, radius: number, width: number): number {
  let i = 0
  while (i < radii.length - 1 && radii[i + 1]! <= radius) i++
  const next = Math.min(radii.length - 1, i + 1)
  const share = next === i ? 0 : Math.min(1, Math.max(0, (radius - radii[i]!) / (radii[next]! - radii[i]!)))
  const at = (index: number): number => arcNoise[index * widths.length + width]!
  return at(i) * (1 - share) + at(next) * share
}
