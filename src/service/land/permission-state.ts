import type { PermissionState } from '#contract'
import type { StoredPermission } from '#store'

/** A day as this machine's calendar has it, 2026-11-25. */
export function dayOf(moment: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0')
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`
}

const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000)

const inDays = (count: number): string => (count === 1 ? '1 day' : `${count} days`)

/** Days before the end from which it is told of. */
const soon = 30

/** What a permission is on a day, and that in a sentence. Days compare as texts; its first and last day belong to it. */
export function permissionState(
  { name, startsOn, endsOn }: Pick<StoredPermission, 'name' | 'startsOn' | 'endsOn'>,
  day: string,
): { readonly state: PermissionState; readonly stateText: string } {
  if (startsOn !== null && endsOn !== null && endsOn < startsOn) {
    const stateText = `${name} ends on ${endsOn}, before it begins on ${startsOn}: check its days.`
    return { state: 'ended', stateText }
  }
  if (startsOn !== null && day < startsOn) {
    const stateText = `${name} does not begin until ${startsOn}, in ${inDays(daysBetween(day, startsOn))}.`
    return { state: 'not-yet', stateText }
  }
  if (endsOn !== null && day > endsOn) {
    const stateText = `${name} ended on ${endsOn}, ${inDays(daysBetween(endsOn, day))} ago: ask again before you go.`
    return { state: 'ended', stateText }
  }
  if (endsOn === null) return { state: 'open', stateText: `${name} is open, with no last day written down.` }
  const left = daysBetween(day, endsOn)
  const ends =
    left === 0
      ? `${name} ends today.`
      : left <= soon
        ? `${name} ends in ${inDays(left)}, on ${endsOn}.`
        : `${name} is open until ${endsOn}.`
  return { state: 'open', stateText: ends }
}
