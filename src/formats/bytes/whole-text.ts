import { SurveyError } from '#core/faults'
import type { FaultList } from '#formats/fault-list'
import type { ByteSource, Progress } from './byte-source.ts'
import { decodedText } from './decoded-text.ts'

/** Longest text read as one string. V8 holds some 536 million characters in one; half of that leaves room to work. */
const longestText = 256 * 1024 * 1024

/**
 * A whole file as one string; for formats that cannot be read piece by piece. Bad bytes become a fault with their line.
 * Faults: SurveyError('file-too-large') above 256 Mi characters. Memory: the text, twice for a moment.
 */
export function wholeText(
  source: ByteSource,
  fileName: string,
  faults: FaultList,
  progress?: Progress,
): string {
  const pieces: string[] = []
  let length = 0
  const linesSoFar = (): number => pieces.reduce((sum, piece) => sum + piece.split('\n').length - 1, 0)
  const text = decodedText(
    source,
    (bad) => faults.add(1 + linesSoFar() + bad.linesInto, 'bad-value', bad.sentence),
    progress,
  )
  for (const piece of text) {
    pieces.push(piece)
    length += piece.length
    if (length > longestText) {
      throw new SurveyError(
        'file-too-large',
        `${fileName} holds more than ${longestText / 1024 / 1024} million characters of text; split it and import the parts.`,
      )
    }
  }
  return pieces.join('')
}
