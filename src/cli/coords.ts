import type { Command } from 'commander'
import { type CoordinateAnswer, type CoordinateRow, coordinatesOf, coordinateTable } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError } from './terminal.ts'

const metres = (value: number): string => value.toFixed(3)

function inWords(answer: CoordinateAnswer): string {
  if ('fault' in answer) return `${answer.text}\n  ${answer.fault}\n`
  const { wgs84, dms, grids, gridRef, utm, mgrs, precisionM, square, note } = answer
  return [
    `WGS84            ${wgs84.lat.toFixed(8)}, ${wgs84.lon.toFixed(8)}`,
    `                 ${dms}`,
    ...grids.map(
      ({ system, easting, northing, method, expectedErrorM }) =>
        `${system.padEnd(24)} ${metres(easting)} E ${metres(northing)} N  by ${method}, good to ${expectedErrorM} m`,
    ),
    ...(gridRef === null ? [] : [`Grid reference   ${gridRef}`]),
    `UTM              ${utm}`,
    `MGRS             ${mgrs}`,
    ...(square === null
      ? []
      : [`The text names a square of ${square.sizeM} m; the figures are its south-west corner.`]),
    ...(square === null && precisionM > 1 ? [`The text gives the place to about ${precisionM} m.`] : []),
    ...(note === null ? [] : [note]),
    '',
  ].join('\n')
}

function table(rows: readonly CoordinateRow[]): string {
  const lines = rows.map(({ lat, lon, easting, northing, gridRef, method }) =>
    [lat, lon, metres(easting), metres(northing), gridRef ?? '', method].join(','),
  )
  return `${['lat,lon,easting,northing,gridRef,method', ...lines].join('\n')}\n`
}

export function coordsCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('coords')
    .description('a coordinate in any notation, in all notations')
    .argument('[text...]', 'latitude and longitude, grid reference, eastings and northings, UTM, MGRS')
    .option(
      '--batch <file>',
      'CSV with columns lat, lon; writes lat,lon,easting,northing,gridRef,method to stdout',
    )
    .option('--json', 'print the result as JSON')
    .action((words: string[], options: { batch?: string; json?: true }) => {
      if ((options.batch === undefined) === (words.length === 0)) {
        throw new UsageError('Give either a coordinate or --batch with a file.')
      }
      if (options.batch !== undefined) {
        const { rows, faults } = coordinateTable(options.batch)
        for (const { line, text } of faults) terminal.err(`${options.batch} line ${line}: ${text}\n`)
        terminal.out(options.json ? `${JSON.stringify({ rows, faults })}\n` : table(rows))
        return
      }
      const answers = coordinatesOf(words.join(' '))
      for (const answer of answers) {
        if ('warnings' in answer) for (const warning of answer.warnings) terminal.err(`${warning}\n`)
      }
      if (options.json)
        terminal.out(`${JSON.stringify(answers.length === 1 ? answers[0] : { places: answers })}\n`)
      else terminal.out(answers.map(inWords).join('\n'))
    })
}
