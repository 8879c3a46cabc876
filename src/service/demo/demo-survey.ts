import { seededRandom } from '#core/random'
import { buriedThings, isOnField } from './buried.ts'
import { type DemoFind, demoFinds } from './finds.ts'
import { survey } from './scenario.ts'
import { walkPath } from './walk-path.ts'
import { type WalkPlan, walkPlans } from './walk-plan.ts'
import { digsOn, type Walked, walked } from './walked.ts'

export interface DemoWalk {
  readonly plan: WalkPlan
  readonly walked: Walked
}

/** Two walks over the Terrace field and what they found, in the field's frame. */
export interface DemoSurvey {
  readonly walks: readonly DemoWalk[]
  readonly finds: readonly DemoFind[]
}

/**
 * Plays the demo's story: things are lost and ploughed about, the field is walked twice, what comes under the coil is
 * dug. A thing whose recorded place falls off the field is left out. The same seed gives the same survey.
 */
export function demoSurvey(seed: number): DemoSurvey {
  const random = seededRandom(seed)
  let things = buriedThings(random)
  const walks = walkPlans.map((plan) => {
    const path = walkPath(plan, random)
    const walk = walked(path, digsOn(path, things, random), plan, random)
    const taken = new Set(walk.dug.map((each) => each.thing))
    things = things.filter((thing) => !taken.has(thing))
    return { plan, walked: walk }
  })
  const dug = walks.flatMap((walk) => walk.walked.dug).filter((each) => isOnField(each.recorded))
  const finds = demoFinds(dug, `${survey.code}-2026`, random)
  return { walks, finds }
}
