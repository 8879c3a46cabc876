import type { FileFault } from '#core/faults'
import type { GroundLines } from '#core/imagery'
import { type ByteSource, wholeText } from '#formats/bytes'
import { decimal } from '#formats/decimal'
import { FaultList, quoted } from '#formats/fault-list'

export interface WorldFile {
  /** Null where the file could not be understood; then a fault says why. */
  readonly lines: GroundLines | null
  readonly faults: readonly FileFault[]
}

const asked = 6

/**
 * Reads a world file: six lines of one number each, which say where the picture beside it lies. In their order: easting and
 * northing that a column adds, easting and northing that a row adds, easting and northing of the *middle* of the upper left pixel. Given back for that
 * pixel's outer corner, as everywhere else here. It does not name the grid; a .prj file beside it may.
 *
 * Empty lines are passed over; what stands after the sixth number is left out and told. All or nothing: a line that is no number is a fault
 * and leaves the picture unplaced.
 *
 * Source  the six lines as GDAL's page on ESRI world files has them.
 */
export function readWorldFile(source: ByteSource, { fileName }: { readonly fileName: string }): WorldFile {
  const faults = new FaultList()
  const numbers: number[] = []
  const texts = wholeText(source, fileName, faults).split(/\r\n|\r|\n/)
  for (const [i, text] of texts.entries()) {
    if (text.trim() === '') continue
    if (numbers.length === asked) {
      faults.add(
        i + 1,
        'unsupported-feature',
        'A world file has six lines; this line and what follows were left out.',
      )
      break
    }
    const number = decimal(text)
    if (!Number.isFinite(number)) {
      faults.add(i + 1, 'bad-value', notANumber(text))
      return { lines: null, faults: faults.list() }
    }
    numbers.push(number)
  }
  const lines = linesOf(numbers, fileName, faults)
  return { lines, faults: faults.list() }
}

function notANumber(text: string): string {
  const point = text.replace(',', '.')
  if (Number.isFinite(decimal(point)))
    return `${quoted(text)} has a decimal comma; write it with a point, ${point.trim()}, and bring the files in again.`
  return `${quoted(text)} is not a number; a world file has one on each of its six lines.`
}

function linesOf(numbers: readonly number[], fileName: string, faults: FaultList): GroundLines | null {
  if (numbers.length === 0) {
    faults.add(null, 'empty-file', `${fileName} holds no numbers; a world file has six.`)
    return null
  }
  if (numbers.length < asked) {
    faults.add(
      null,
      'broken-file',
      `${fileName} ends after ${numbers.length} of the six numbers of a world file.`,
    )
    return null
  }
  const [eastingPerColumn, northingPerColumn, eastingPerRow, northingPerRow, x, y] = numbers as [
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  if (!pinsAPlane(eastingPerColumn, northingPerColumn, eastingPerRow, northingPerRow)) {
    faults.add(
      null,
      'bad-value',
      `The pixel sizes in ${fileName} lay the picture on a line or a point; check its first four lines.`,
    )
    return null
  }
  return {
    easting: x - eastingPerColumn / 2 - eastingPerRow / 2,
    northing: y - northingPerColumn / 2 - northingPerRow / 2,
    eastingPerColumn,
    northingPerColumn,
    eastingPerRow,
    northingPerRow,
  }
}

/** Whether a column and a row go different ways: by more than a ten-thousandth of their lengths. */
function pinsAPlane(a: number, d: number, b: number, e: number): boolean {
  return Math.abs(a * e - b * d) > 1e-4 * Math.hypot(a, d) * Math.hypot(b, e)
}
