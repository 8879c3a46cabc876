import type { PlanarTrack } from './planar-track.ts'
import type { BrokenSteps, JumpLimits, SweptLegs } from './swept-legs.ts'

/** What several tracks add up to. */
export interface WalkAccount {
  /** Length of all swept legs, metres. */
  readonly distanceM: number
  /** Time spent on them, seconds; null where no leg of any track has times. */
  readonly walkingS: number | null
  /** What was left out or assumed, one sentence each. */
  readonly notes: readonly string[]
}

const many = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`

/** Adds up the legs of several tracks (as `sweptLegs` gave them, in the same order) and says what was left out. */
export function walkAccount(
  tracks: readonly PlanarTrack[],
  legsOfTracks: readonly SweptLegs[],
  limits: JumpLimits,
): WalkAccount {
  const sum = (value: (legs: SweptLegs) => number): number =>
    legsOfTracks.reduce((all, legs) => all + value(legs), 0)
  const timed = legsOfTracks.some((legs) => legs.walkingS !== null)
  const unplaced = tracks.reduce((all, track) => all + unplacedFixes(track), 0)
  const lone = sum((legs) => legs.lone)
  const backwards = sum((legs) => legs.backwards)
  const untimed = sum((legs) => legs.untimed)
  const notes: string[] = []
  const broken = brokenInWords(sum, limits)
  if (broken.length > 0) notes.push(`Not counted as swept ground: ${broken.join(', ')}.`)
  if (unplaced > 0)
    notes.push(`${many(unplaced, 'fix has', 'fixes have')} no place in the grid and counted for nothing.`)
  if (lone > 0)
    notes.push(
      `${many(lone, 'fix stands', 'fixes stand')} alone, counted as a disc one swath across and no distance.`,
    )
  if (backwards > 0)
    notes.push(
      `Times run backwards on ${many(backwards, 'step', 'steps')}; the order of the fixes was kept, no time was counted there.`,
    )
  if (timed && untimed > 0)
    notes.push(`The walking time leaves out ${many(untimed, 'step', 'steps')} without times.`)
  if (!timed && untimed > 0) notes.push('The fixes carry no times, so the walking time is not known.')
  return {
    distanceM: sum((legs) => legs.distanceM),
    walkingS: timed ? sum((legs) => legs.walkingS ?? 0) : null,
    notes,
  }
}

function brokenInWords(
  sum: (value: (legs: SweptLegs) => number) => number,
  { maxJumpM, maxJumpS }: JumpLimits,
): string[] {
  const count = (reason: keyof BrokenSteps): number => sum((legs) => legs.broken[reason])
  const said: string[] = []
  if (count('distance') > 0)
    said.push(`${many(count('distance'), 'step', 'steps')} longer than ${maxJumpM} m`)
  if (count('time') > 0)
    said.push(`${many(count('time'), 'step', 'steps')} lasting longer than ${maxJumpS} s`)
  if (count('segment') > 0)
    said.push(many(count('segment'), 'break between segments', 'breaks between segments'))
  return said
}

function unplacedFixes({ xy }: PlanarTrack): number {
  let unplaced = 0
  for (let i = 0; i + 1 < xy.length; i += 2) {
    if (!Number.isFinite(xy[i]!) || !Number.isFinite(xy[i + 1]!)) unplaced++
  }
  return unplaced
}
