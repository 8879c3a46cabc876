import type { FaultCode } from './codes.ts'

/** Something in an imported file that was not, or not fully, understood. The rest of the file was kept. */
export interface FileFault {
  /** Line in the file, counted from 1; null where the fault has no line (a binary file, the whole file). */
  readonly line: number | null
  readonly code: FaultCode
  /** One sentence: what is wrong and what was done about it. */
  readonly text: string
}

/**
 * A fault in the data or the world. The code is for programs; the sentence (`message`) is for people and says which
 * file, where in it, and what to do. A wrong call by our own code is a RangeError or TypeError instead.
 */
export class SurveyError extends Error {
  override readonly name = 'SurveyError'
  readonly code: FaultCode

  constructor(code: FaultCode, sentence: string, options?: ErrorOptions) {
    super(sentence, options)
    this.code = code
  }
}

/** True for a SurveyError, also one that crossed from another realm (a worker thread copies only its fields). */
export function isSurveyError(value: unknown): value is SurveyError {
  return value instanceof Error && value.name === 'SurveyError' && 'code' in value
}
