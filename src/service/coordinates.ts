import { readFileSync } from 'node:fs'
import { parse } from 'csv-parse/sync'
import { type FileFault, isSurveyError, SurveyError } from '#core/faults'
import {
  type CoordinateNotations,
  type CoordinateReading,
  coordinateNotations,
  type PlacedPosition,
  parseCoordinates,
  placeInGrid,
} from '#core/geodesy'
import { ostn15 } from '#work'

/** One place that was asked for: in all notations, or why it is none. */
export type CoordinateAnswer = CoordinateNotations | { readonly text: string; readonly fault: string }

/**
 * Every place in a text, in all notations. Faults: SurveyError('bad-coordinate' or 'outside-grid') where the text is one place
 * and that cannot be read; among several a bad one is told in its turn.
 */
export function coordinatesOf(text: string): CoordinateAnswer[] {
  const context = { shift: ostn15() }
  const readings = parseCoordinates(text, context)
  if (readings.length === 0)
    throw new SurveyError('bad-coordinate', 'There is no coordinate: the text is empty.')
  return readings.map((reading: CoordinateReading): CoordinateAnswer => {
    if ('coordinate' in reading) return coordinateNotations(reading.coordinate, context)
    if (readings.length === 1) throw new SurveyError('bad-coordinate', reading.fault)
    return reading
  })
}

export interface CoordinateRow extends PlacedPosition {
  readonly lat: number
  readonly lon: number
}

/** The rows of a table with columns lat and lon, each in the grid of its place; rows that cannot be read are told by line. */
export function coordinateTable(file: string): { rows: CoordinateRow[]; faults: FileFault[] } {
  const rows: CoordinateRow[] = []
  const faults: FileFault[] = []
  for (const { record, info } of tableOf(file)) {
    const lat = Number(record.lat?.trim() || Number.NaN)
    const lon = Number(record.lon?.trim() || Number.NaN)
    try {
      if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 180)) {
        throw new SurveyError(
          'bad-value',
          `"${record.lat}", "${record.lon}" is no latitude and longitude in degrees.`,
        )
      }
      rows.push({ lat, lon, ...placeInGrid(lon, lat, { shift: ostn15() }) })
    } catch (error) {
      if (!isSurveyError(error)) throw error
      faults.push({ line: info.lines, code: error.code, text: `${error.message} The row was left out.` })
    }
  }
  return { rows, faults }
}

function tableOf(file: string): { record: Record<string, string | undefined>; info: { lines: number } }[] {
  const text = (() => {
    try {
      return readFileSync(file, 'utf8')
    } catch (cause) {
      throw new SurveyError('not-found', `The file ${file} cannot be read.`, { cause })
    }
  })()
  try {
    const records = parse(text, {
      bom: true,
      columns: (names: string[]) => names.map((name) => name.trim().toLowerCase()),
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
    }) as unknown as ReturnType<typeof tableOf>
    const first = records[0]?.record
    if (first !== undefined && !('lat' in first && 'lon' in first)) {
      throw new SurveyError('missing-columns', `${file} needs columns named lat and lon in its first line.`)
    }
    return records
  } catch (cause) {
    if (isSurveyError(cause)) throw cause
    throw new SurveyError('broken-file', `${file} is no readable table: ${(cause as Error).message}`, {
      cause,
    })
  }
}
