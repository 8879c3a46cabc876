import type { Command } from 'commander'
import { terrainViews } from '#contract'
import { type ReliefReply, type ReliefWishes, reliefOfFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { epsgCode, oneOf, positive, progressLine, wholeNumber, zeroOrMore } from './terminal.ts'

interface ReliefOptions extends Omit<ReliefWishes, 'file' | 'radiusM'> {
  readonly radius?: number
  readonly json?: true
}

const number = (value: number | null): string =>
  value === null ? 'none' : Number(value.toPrecision(6)).toString()

function inWords({ written, view, min, max, mean, columns, rows, cellX, cellY }: ReliefReply): string {
  const cell = cellX === cellY ? number(cellX) : `${number(cellX)} x ${number(cellY)}`
  return [
    `Written    ${written}`,
    `View       ${view}, ${columns} x ${rows} cells of ${cell} m`,
    `Values     ${number(min)} to ${number(max)}, mean ${number(mean)}`,
    '',
  ].join('\n')
}

export function reliefCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('relief')
    .description('one view of a terrain model as a GeoTIFF. Metres; degrees from grid north.')
    .argument('<dtm>', 'heights: GeoTIFF, or ESRI ASCII grid (also gzipped)')
    .requiredOption('--view <view>', `one of ${terrainViews.join(', ')}`, oneOf('--view', terrainViews))
    .requiredOption('--out <file>', 'GeoTIFF to be written')
    .option('--azimuth <degrees>', 'where the light comes from (315)', zeroOrMore('--azimuth'))
    .option('--altitude <degrees>', 'how high the light stands (45)', zeroOrMore('--altitude'))
    .option('--exaggeration <times>', 'heights are taken so many times (1)', positive('--exaggeration'))
    .option(
      '--radius <m>',
      'how far local relief, sky-view and openness look (10, or 5 cells)',
      positive('--radius'),
    )
    .option(
      '--directions <number>',
      'ways looked in by sky-view and openness (16)',
      wholeNumber('--directions'),
    )
    .option(
      '--shape <shape>',
      'smoothing of local relief: gaussian (usual) or box',
      oneOf('--shape', ['gaussian', 'box'] as const),
    )
    .option('--epsg <code>', 'coordinate system of a file that names none', epsgCode)
    .option('--json', 'print the figures as JSON')
    .action(async (file: string, { json, radius, ...wishes }: ReliefOptions) => {
      const line = progressLine(terminal)
      const asked = { file, ...wishes, ...(radius === undefined ? {} : { radiusM: radius }) }
      const reply = await reliefOfFile(asked, { progress: line.tell }).finally(line.clear)
      for (const { text } of reply.faults) terminal.err(`${text}\n`)
      terminal.out(json ? `${JSON.stringify(reply)}\n` : inWords(reply))
    })
}
