import type { Command } from 'commander'
import { type CoverFigures, defaultSettings } from '#contract'
import { type CoverOfFiles, coverOfFiles } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { positive, progressLine, share, UsageError, whole, zeroOrMore } from './terminal.ts'

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
  ownChance?: number
  clean?: true
  cutDrives?: true
  simulations?: number
  seed: number
  memory: number
  gapChance?: number
  chances?: string
  out?: string
  gaps?: string
  lanes?: string
  tolerance?: number
  json?: true
}

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`
const hectares = (m2: number): string => `${(m2 / 10_000).toFixed(2)} ha`

function chancesInWords({
  expectedShare,
  share50,
  share80,
  share95,
  tooFastM,
  spread,
}: CoverFigures): string[] {
  if (expectedShare === null) return []
  return [
    `Expected share   ${percent(expectedShare)}`,
    `Chance 50 % up   ${percent(share50 ?? 0)}; 80 % up ${percent(share80 ?? 0)}; 95 % up ${percent(share95 ?? 0)}`,
    ...(tooFastM == null ? [] : [`Walked too fast  ${tooFastM.toFixed(0)} m`]),
    ...(spread == null
      ? []
      : [
          `Simulated share  ${percent(spread.low)} to ${percent(spread.high)} in 90 of 100 walks, mean ${percent(spread.mean)}`,
        ]),
  ]
}

function lanesInWords(lanes: CoverOfFiles['figures']['lanes']): string[] {
  if (lanes === null) return []
  const { walked, part, skipped, plannedM, walkedM, toleranceM, strayings, missed } = lanes
  return [
    `Lanes            ${walked} walked, ${part} in part, ${skipped} skipped; ${percent(plannedM > 0 ? walkedM / plannedM : 0)} of ${plannedM.toFixed(0)} m, within ${toleranceM.toFixed(1)} m`,
    `Along no lane    ${strayings.metres.toFixed(0)} m`,
    ...(missed.length > 0 ? [`Not wholly walked: ${missed.join(', ')}`] : []),
  ]
}

function figuresInWords(figures: CoverOfFiles['figures']): string {
  const { gaps, passes } = figures
  return [
    `Area             ${hectares(figures.areaM2)}`,
    `Covered          ${hectares(figures.coveredM2)}, ${percent(figures.coveredShare)}`,
    ...chancesInWords(figures),
    `Passes           mean ${passes.mean.toFixed(2)}, most ${passes.max}`,
    `Gaps             ${gaps.count}, ${gaps.areaM2.toFixed(0)} m² together, largest ${gaps.largestM2.toFixed(0)} m²`,
    `Distance swept   ${figures.distanceM.toFixed(0)} m`,
    ...(figures.walkingS === null ? [] : [`Time walking     ${(figures.walkingS / 60).toFixed(0)} min`]),
    ...lanesInWords(figures.lanes),
    ...figures.notes.map((note) => `  ${note}`),
    '',
  ].join('\n')
}

/** Options that say something about chances are no use where none are worked out: that is told, not passed over. */
function needsError({ error, coil, ...options }: CoverOptions): void {
  if (error === undefined && options.simulations !== undefined)
    throw new UsageError('--simulations needs --error: how far positions may be off.')
  if (error !== undefined || coil !== undefined) return
  for (const [name, value] of Object.entries({
    '--own-chance': options.ownChance,
    '--gap-chance': options.gapChance,
    '--chances': options.chances,
  }))
    if (value !== undefined) throw new UsageError(`${name} needs --error, or --coil with --rate.`)
}

/** What the chances take, and the cleaning that goes before them. */
function chanceOptions(command: Command): Command {
  return command
    .option(
      '--error <m>',
      'lateral position error, one sigma: gives the expected share',
      zeroOrMore('--error'),
    )
    .option('--coil <m>', 'length of ground the coil senses along the walk; with --rate', positive('--coil'))
    .option('--rate <per second>', 'sweeps a second, one crossing each; with --coil', positive('--rate'))
    .option(
      '--own-chance <p>',
      "the instrument's own chance, above 0 up to 1 (with --error)",
      share('--own-chance'),
    )
    .option('--clean', 'clean the tracks first: spikes out, smoothed, each fix with its own error')
    .option('--cut-drives', 'leave out what looks driven')
    .option(
      '--simulations <n>',
      'simulated walks for the spread of the share (with --error)',
      whole('--simulations'),
    )
    .option('--seed <n>', 'seed of the simulations', whole('--seed'), 1)
    .option('--memory <s>', 'seconds over which errors of a receiver change', positive('--memory'), 120)
    .option(
      '--gap-chance <p>',
      '--gaps are the ground below this chance (with --error)',
      share('--gap-chance'),
    )
    .option('--chances <file>', 'write the chances as a GeoTIFF of floats (with --error)')
}

export function coverCommand(root: Command, { terminal }: CommandLineParts): void {
  const command = root
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
    .option('--lanes <file>', 'planned lanes: tells which were walked')
    .option(
      '--tolerance <m>',
      'how near to a lane counts as along it (else the error of a fix; with --lanes)',
      positive('--tolerance'),
    )
    .option('--json', 'print the figures as JSON')
  chanceOptions(command).action(async (tracks: string[], options: CoverOptions) => {
    if ((options.coil === undefined) !== (options.rate === undefined)) {
      throw new UsageError('--coil and --rate go together.')
    }
    needsError(options)
    if (options.tolerance !== undefined && options.lanes === undefined)
      throw new UsageError('--tolerance needs --lanes: a file with planned lanes.')
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
