import type { RecordedTrack } from '#core/record'
import type { FaultList } from '#formats/fault-list'

/** Where a kind of trouble was met first, and how often in all. */
interface Tally {
  count: number
  line: number | null
  example: string
}

/** A name for people: the track's own, or its place in the file. */
function called(track: RecordedTrack, index: number): string {
  return track.name === null || track.name.trim() === ''
    ? `track ${index + 1}`
    : `track “${track.name.trim().slice(0, 40)}”`
}

const andOthers = (tally: Tally): string =>
  tally.count > 1
    ? ` (and ${tally.count - 1} more ${tally.count === 2 ? 'track' : 'tracks'} of this file)`
    : ''

/** Positions along a track, all equal? Cost: stops at the first that differs. */
function atOneSpot(xy: Float64Array): boolean {
  for (let i = 2; i < xy.length; i += 2) if (xy[i] !== xy[0] || xy[i + 1] !== xy[1]) return false
  return true
}

/**
 * What a person should be told of the tracks of one file: too few fixes, no movement, no times, times that run
 * backwards. Each is said once a file, with its first place and how often it occurs. Planned lines are passed over.
 */
export class TrackNotes {
  readonly #short: Tally = { count: 0, line: null, example: '' }
  readonly #still: Tally = { count: 0, line: null, example: '' }
  readonly #backwards: Tally = { count: 0, line: null, example: '' }
  #walked = 0
  #untimed = 0
  #steps = 0

  /** `line` is where the track begins in the file, or null. Cost: one pass over the times. */
  see(track: RecordedTrack, index: number, line: number | null): void {
    if (!track.walked) return
    const fixes = track.xy.length / 2
    if (fixes < 2) {
      tallied(this.#short, line, `${called(track, index)} has ${fixes === 0 ? 'no fix' : 'one fix'}`)
    } else if (atOneSpot(track.xy)) {
      tallied(this.#still, line, `all ${fixes} fixes of ${called(track, index)} lie at one spot`)
    }
    this.#walked += fixes
    this.#seeTimes(track, index, line)
  }

  #seeTimes(track: RecordedTrack, index: number, line: number | null): void {
    const { time } = track
    if (time === null) {
      this.#untimed += track.xy.length / 2
      return
    }
    let last = Number.NaN
    let lastAt = -1
    let steps = 0
    let first = ''
    for (let i = 0; i < time.length; i++) {
      const t = time[i]!
      if (Number.isNaN(t)) {
        this.#untimed++
        continue
      }
      if (t < last) {
        if (steps === 0) first = `after fix ${lastAt + 1} of ${called(track, index)}`
        steps++
      }
      last = t
      lastAt = i
    }
    if (steps > 0) tallied(this.#backwards, line, first)
    this.#steps += steps
  }

  /** Writes the notes, once all tracks have been seen. */
  tell(faults: FaultList): void {
    const { line, example } = this.#short
    if (this.#short.count > 0) {
      faults.note(
        line,
        'too-few-fixes',
        `${capital(example)}${andOthers(this.#short)}, so no ground was walked between fixes.`,
      )
    }
    if (this.#still.count > 0) {
      faults.note(
        this.#still.line,
        'too-few-fixes',
        `${capital(this.#still.example)}${andOthers(this.#still)}, so no ground was walked between fixes.`,
      )
    }
    if (this.#untimed > 0) {
      const which =
        this.#untimed === this.#walked
          ? 'The fixes carry no times'
          : `${this.#untimed} of ${this.#walked} fixes carry no time`
      faults.note(
        null,
        'no-times',
        `${which}; what needs times (walking time, breaks) cannot be worked out there.`,
      )
    }
    if (this.#backwards.count > 0) {
      const often = this.#steps === 1 ? 'once' : `${this.#steps} times`
      faults.note(
        this.#backwards.line,
        'times-backwards',
        `Times run backwards ${often}, first ${this.#backwards.example}; the order of the file was kept.`,
      )
    }
  }
}

function tallied(tally: Tally, line: number | null, example: string): void {
  if (tally.count === 0) {
    tally.line = line
    tally.example = example
  }
  tally.count++
}

function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1)
}
