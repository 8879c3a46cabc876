import type { Command } from 'commander'
import { coordinateTable, coordinatesOf } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError } from './terminal.ts'

export function coordsCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('coords')
    .description('a coordinate in any notation, in all notations')
    .argument('[text...]', 'latitude and longitude, grid reference, eastings and northings, UTM, MGRS')
    .option('--batch <file>', 'CSV with columns lat, lon; writes lat,lon,easting,northing,gridRef,method to stdout')
    .option('--json', 'print the result as JSON')
    .action((words: string[], options: { batch?: string; json?: true }) => {
      if (options.batch !== undefined) {
        if (words.length > 0) throw new UsageError('Give either a coordinate or --batch, not both.')
        const { csv, points, faults } = coordinateTable(options.batch)
        for (const { line, text } of faults) terminal.err(`${options.batch} line ${line}: ${text}\n`)
        terminal.out(options.json ? `${JSON.stringify({ points, faults })}\n` : csv)
        return
      }
      if (words.length === 0) throw new UsageError('Give a coordinate, or --batch with a file.')
      const found = coordinatesOf(words.join(' '))
      for (const warning of found.warnings) terminal.err(`${warning}\n`)
      terminal.out(options.json ? `${JSON.stringify(found)}\n` : found.inWords)
    })
}
