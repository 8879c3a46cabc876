import { describe, expect, test } from 'vitest'
import { dayOf, permissionState } from './permission-state.ts'

const of = (startsOn: string | null, endsOn: string | null, day: string) =>
  permissionState({ name: 'Leave', startsOn, endsOn }, day)

describe('a permission on a day', () => {
  test.each([
    ['2026-09-01', '2027-02-28', '2026-08-31', 'not-yet', 'until 2026-09-01, in 1 day.'],
    ['2026-09-01', '2027-02-28', '2026-09-01', 'open', 'open until 2027-02-28'],
    ['2026-09-01', '2027-02-28', '2027-02-28', 'open', 'ends today'],
    ['2026-09-01', '2027-02-28', '2027-02-20', 'open', 'ends in 8 days'],
    ['2026-09-01', '2027-02-28', '2027-03-01', 'ended', 'ended on 2027-02-28, 1 day ago'],
    [null, null, '2026-01-01', 'open', 'no last day'],
    ['2026-09-01', '2026-08-01', '2026-08-15', 'ended', 'before it begins'],
    // A day over a change to summer time is a day as any other.
    [null, '2026-03-28', '2026-03-30', 'ended', '2 days ago'],
  ])('from %s to %s, on %s: %s', (startsOn, endsOn, day, state, words) => {
    const told = of(startsOn, endsOn, day)
    expect(told.state).toBe(state)
    expect(told.stateText).toContain(words)
  })

  test('a day is the one of this machine', () => {
    expect(dayOf(new Date(2026, 10, 5, 23, 59))).toBe('2026-11-05')
  })
})
