import { SurveyError } from '#core/faults'

/** How a person walks lanes. */
export interface Pace {
  /** Along lanes, sweeping, metres a second. */
  readonly sweepMs: number
  /** Between lanes, metres a second. */
  readonly walkMs: number
  /** Lost at each turn from lane to lane, seconds. */
  readonly turnS: number
  /** A rest after each this many minutes of work; 0 minutes of rest for none. */
  readonly workMin: number
  readonly restMin: number
}

/** Sweeping low and slow, 0.5 m/s; ten minutes of rest after each fifty (common practice). */
export const usualPace: Pace = { sweepMs: 0.5, walkMs: 1.2, turnS: 5, workMin: 50, restMin: 10 }

/** Time that lanes take, seconds. */
export interface WalkTime {
  readonly sweepS: number
  /** Walking between lanes and turning. */
  readonly betweenS: number
  readonly restS: number
  readonly totalS: number
}

/**
 * Time for lanes of a length, the walk between them, their turns, and a rest after each full stretch of work but one that ends with it.
 *
 * Faults  SurveyError('setting-out-of-range') for speeds and times that are none.
 */
export function walkTime(
  { lengthM, wayM, turns }: { readonly lengthM: number; readonly wayM: number; readonly turns: number },
  pace: Pace,
): WalkTime {
  for (const [what, value] of [
    ['The speed along lanes', pace.sweepMs],
    ['The speed between lanes', pace.walkMs],
    ['The time between rests', pace.workMin],
  ] as const)
    if (!(value > 0 && Number.isFinite(value)))
      throw new SurveyError('setting-out-of-range', `${what} must be above 0, not ${value}.`)
  for (const [what, value] of [
    ['The time for a turn', pace.turnS],
    ['The time for a rest', pace.restMin],
  ] as const)
    if (!(value >= 0 && Number.isFinite(value)))
      throw new SurveyError('setting-out-of-range', `${what} must not be below 0, not ${value}.`)
  const sweepS = lengthM / pace.sweepMs
  const betweenS = wayM / pace.walkMs + turns * pace.turnS
  const rests = Math.max(0, Math.ceil((sweepS + betweenS) / (60 * pace.workMin)) - 1)
  const restS = rests * 60 * pace.restMin
  return { sweepS, betweenS, restS, totalS: sweepS + betweenS + restS }
}
