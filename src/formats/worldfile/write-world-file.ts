import type { GroundLines } from '#core/imagery'
import { plainDecimal } from '#formats/decimal'

/**
 * A world file: six lines, as `readWorldFile` reads them, each the shortest text that gives the number back.
 * Faults: RangeError for what is not finite.
 */
export function writeWorldFile(lines: GroundLines): string {
  const { easting, northing, eastingPerColumn, northingPerColumn, eastingPerRow, northingPerRow } = lines
  const numbers = [
    eastingPerColumn,
    northingPerColumn,
    eastingPerRow,
    northingPerRow,
    easting + eastingPerColumn / 2 + eastingPerRow / 2,
    northing + northingPerColumn / 2 + northingPerRow / 2,
  ]
  return numbers.map((number) => `${plainDecimal(number)}\n`).join('')
}
