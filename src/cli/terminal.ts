import { isSurveyError } from '#core/faults'

/** Where a command speaks. Results go to `out`; everything else, progress and warnings, to `err`. */
export interface Terminal {
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  /** True where `err` is a screen on which a line can be drawn over. */
  readonly live: boolean
}

export class UsageError extends Error {
  override readonly name = 'UsageError'
}

export const exitCodes = { done: 0, fault: 1, usage: 2 } as const

/** The exit code for an error and the one sentence that explains it. A defect of ours keeps its stack. */
export function explain(error: unknown): { code: number; sentence: string } {
  if (error instanceof UsageError) return { code: exitCodes.usage, sentence: error.message }
  if (isSurveyError(error)) return { code: exitCodes.fault, sentence: error.message }
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error)
  return { code: exitCodes.fault, sentence: `This is a defect in the program, please report it: ${detail}` }
}

/** One line that is drawn over while work goes on, on a screen only. */
export function progressLine(terminal: Terminal): {
  tell: (done: number, label: string) => void
  clear: () => void
} {
  let shown = 0
  const draw = (text: string): void => {
    terminal.err(`\r${text.padEnd(shown)}`)
    shown = text.length
  }
  return {
    tell: (done, label) => {
      if (terminal.live) draw(`${Math.round(done * 100)} % ${label}`)
    },
    clear: () => {
      if (shown > 0) draw('')
      if (shown > 0) terminal.err('\r')
      shown = 0
    },
  }
}

/** A positive number from a word of the command line. */
export function positive(name: string): (word: string) => number {
  return (word) => {
    const value = Number(word)
    if (!(value > 0 && Number.isFinite(value)))
      throw new UsageError(`${name} takes a number above zero, not "${word}".`)
    return value
  }
}

/** A number of zero or more from a word of the command line. */
export function zeroOrMore(name: string): (word: string) => number {
  return (word) => {
    const value = Number(word)
    if (word.trim() === '' || !(value >= 0 && Number.isFinite(value))) {
      throw new UsageError(`${name} takes a number of zero or more, not "${word}".`)
    }
    return value
  }
}

/** A whole number above zero from a word of the command line. */
export function wholeNumber(name: string): (word: string) => number {
  return (word) => {
    const value = positive(name)(word)
    if (!Number.isInteger(value)) throw new UsageError(`${name} takes a whole number, not "${word}".`)
    return value
  }
}

/** One of some words of the command line. */
export function oneOf<Word extends string>(name: string, words: readonly Word[]): (word: string) => Word {
  return (word) => {
    const found = words.find((each) => each === word)
    if (found === undefined) throw new UsageError(`${name} is one of ${words.join(', ')}, not "${word}".`)
    return found
  }
}

/** The code of a coordinate system, with `EPSG:` before it or not. */
export function epsgCode(word: string): number {
  const code = Number(/^(?:EPSG:)?(\d{4,6})$/i.exec(word)?.[1])
  if (Number.isInteger(code)) return code
  throw new UsageError(`--epsg takes the number of a coordinate system, such as 27700, not "${word}".`)
}

/** A share above 0, up to 1. */
export function share(name: string): (word: string) => number {
  return (word) => {
    const value = Number(word)
    if (!(value > 0 && value <= 1))
      throw new UsageError(`${name} takes a number above 0, up to 1, not "${word}".`)
    return value
  }
}

/** A whole number of zero or more. */
export function whole(name: string): (word: string) => number {
  return (word) => {
    const value = Number(word)
    if (word.trim() === '' || !(Number.isSafeInteger(value) && value >= 0))
      throw new UsageError(`${name} takes a whole number, not "${word}".`)
    return value
  }
}

/** A reader of whole numbers from `least` to `most`. */
export function wholeFrom(name: string, least: number, most: number): (word: string) => number {
  return (word) => {
    const value = Number(word)
    if (word.trim() === '' || !Number.isInteger(value) || value < least || value > most)
      throw new UsageError(`${name} takes a whole number from ${least} to ${most}, not "${word}".`)
    return value
  }
}
