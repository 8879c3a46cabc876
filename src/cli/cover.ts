import type { Command } from 'commander'
import { type CoverFigures, defaultSettings } from '#contract'
import { coverOfFiles } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { positive, progressLine, UsageError, zeroOrMore } from './terminal.ts'

interface CoverOptions {
  area: string
  width: number
  cell?: number
  error?: number
  coil?: number
  rate?: number
  maxJump: number
  maxTime: number
  minGap: number
  out?: string
  gaps?: string
  json?: true
}

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`
const hectares = (m2: number): string => `${(m2 / 10_000).toFixed(2)} ha`

function figuresInWords(figures: CoverFigures): string {
  const { gaps, passes } = figures
  return [
    `Area             ${hectares(figures.areaM2)}`,
    `Covered          ${hectares(figures.coveredM2)}, ${percent(figures.coveredShare)}`,
    ...(figures.expectedShare === null ? [] : [`Expected share   ${percent(figures.expectedShare)}`]),
    `Passes           mean ${passes.mean.toFixed(2)}, most ${passes.max}`,
    `Gaps             ${gaps.count}, ${gaps.areaM2.toFixed(0)} m² together, largest ${gaps.largestM2.toFixed(0)} m²`,
    `Distance swept   ${figures.distanceM.toFixed(0)} m`,
    ...(figures.walkingS === null ? [] : [`Time walking     ${(figures.walkingS / 60).toFixed(0)} min`]),
    ...figures.notes.map((note) => `  ${note}`),
    '',
  ].join('\n')
}

export function coverCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('cover')
    .description(
      'ground covered by walked tracks within an area: share, passes, gaps. Metres and square metres.',
    )
    .argument('<track...>', 'track files: GPX, KML, GeoJSON, CSV')
    .requiredOption('--area <file>', 'file with the search area: GeoJSON, KML, GPX')
    .requiredOption(
      '--width <m>',
      'full width of the arc swept, edge to edge of the coil',
      positive('--width'),
    )
    .option('--cell <m>', 'side of a cell (else chosen by the size of the area)', positive('--cell'))
    .option(
      '--error <m>',
      'lateral position error, one sigma: gives the expected share',
      zeroOrMore('--error'),
    )
    .option('--coil <m>', 'length of ground the coil senses along the walk; with --rate', positive('--coil'))
    .option('--rate <per second>', 'sweeps a second, one crossing each; with --coil', positive('--rate'))
    .option('--max-jump <m>', 'longer steps are not swept', positive('--max-jump'), defaultSettings.maxJumpM)
    .option(
      '--max-time <s>',
      'steps lasting longer are not swept',
      positive('--max-time'),
      defaultSettings.maxJumpS,
    )
    .option(
      '--min-gap <m2>',
      'smaller gaps are not listed',
      zeroOrMore('--min-gap'),
      defaultSettings.minGapM2,
    )
    .option('--out <file>', 'write the passes as a GeoTIFF (255 outside the area)')
    .option('--gaps <file>', 'write the gaps as GeoJSON')
    .option('--json', 'print the figures as JSON')
    .action(async (tracks: string[], options: CoverOptions) => {
      if ((options.coil === undefined) !== (options.rate === undefined)) {
        throw new UsageError('--coil and --rate go together.')
      }
      const line = progressLine(terminal)
      const { json, ...wishes } = options
      const { figures, faults } = await coverOfFiles({ tracks, ...wishes }, { progress: line.tell }).finally(
        line.clear,
      )
      for (const { file, line: at, text } of faults) {
        terminal.err(`${file}${at === null ? '' : ` line ${at}`}: ${text}\n`)
      }
      terminal.out(json ? `${JSON.stringify(figures)}\n` : figuresInWords(figures))
    })
}
