import type { Command } from 'commander'
import { type MarksOfFile, type MarksWishes, marksOfFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { positive, progressLine, UsageError } from './terminal.ts'

interface MarksOptions {
  kind: 'ring' | 'pit' | 'line'
  diameter?: { from: number; to: number }
  width?: { from: number; to: number }
  length?: number
  tone: 'dark' | 'light' | 'either'
  max: number
  view: string
  out?: string
  crs: 'wgs84' | 'layer'
  json?: true
}

const range =
  (name: string, such: string) =>
  (word: string): { from: number; to: number } => {
    const found = /^(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?)$/.exec(word.trim())
    if (!found)
      throw new UsageError(`${name} takes two numbers with two points between, as ${such}, not "${word}".`)
    return { from: Number(found[1]), to: Number(found[2]) }
  }

function oneOf<Word extends string>(name: string, words: readonly Word[]): (word: string) => Word {
  return (word) => {
    if (!(words as readonly string[]).includes(word))
      throw new UsageError(`${name} takes one of ${words.join(', ')}, not "${word}".`)
    return word as Word
  }
}

type Candidate = MarksOfFile['candidates'][number]

const shareInWords = (share: number | null): string =>
  (share === null ? '-' : `${Math.round(share * 100)} %`).padStart(6)

function rowOf(candidate: Candidate, i: number, m: string): string {
  const { x, y, tone, completeness, falseAlarmsPerKm2, falseAlarmsPerMpx } = candidate
  const own =
    'coordinates' in candidate
      ? [
          candidate.kind.padStart(9),
          `${candidate.length.toFixed(1)} ${m}`.padStart(10),
          `${candidate.width.toFixed(1)} ${m}`.padStart(8),
        ]
      : [`${candidate.diameter.toFixed(1)} ${m}`.padStart(9)]
  const last =
    'coordinates' in candidate
      ? candidate.mayBe.length > 0
        ? [`may be ${candidate.mayBe.join(' or ')}`]
        : []
      : []
  return [
    String(i + 1).padStart(4),
    x.toFixed(1).padStart(11),
    y.toFixed(1).padStart(11),
    ...own,
    tone.padStart(5),
    shareInWords(completeness),
    ...('score' in candidate ? [(candidate.score?.toFixed(3) ?? '-').padStart(6)] : []),
    (falseAlarmsPerKm2 ?? falseAlarmsPerMpx).toPrecision(2).padStart(9),
    ...last,
  ].join('  ')
}

function inWords({ candidates, unit, seconds, written }: MarksOfFile, kind: MarksOptions['kind']): string {
  const m = unit === 'metres' ? 'm' : 'px'
  const rate = unit === 'metres' ? 'square kilometre' : 'million pixels'
  const head =
    kind === 'line'
      ? '  No          x            y       kind      length     width   tone    seen'
      : '  No          x            y   diameter   tone    seen   score'
  return [
    `${candidates.length} candidates in ${seconds.toFixed(1)} s, best first; each is a question, not an answer.`,
    `${head}  such a ${rate} by chance`,
    ...candidates.map((candidate, i) => rowOf(candidate, i, m)),
    ...(written === null ? [] : [`Written to ${written}`]),
    '',
  ].join('\n')
}

/** What is asked for by its diameter, or by its width and length. */
function sizesOf({
  kind,
  diameter,
  width,
  length,
}: MarksOptions):
  | Pick<Extract<MarksWishes, { kind: 'line' }>, 'kind' | 'width' | 'length'>
  | Pick<Extract<MarksWishes, { kind: 'ring' | 'pit' }>, 'kind' | 'diameter'> {
  if (kind === 'line') {
    if (diameter)
      throw new UsageError('A line has no diameter: give --width, as 1..4, and leave out --diameter.')
    if (!width) throw new UsageError('--kind line needs --width, as 1..4.')
    return { kind, width, length: length ?? null }
  }
  if (width || length !== undefined)
    throw new UsageError(`--width and --length are for --kind line; a ${kind} is asked for by --diameter.`)
  if (!diameter) throw new UsageError(`--kind ${kind} needs --diameter, as 8..40.`)
  return { kind, diameter }
}

export function marksCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('marks')
    .description(
      'ring, pit or line candidates in an image or terrain model, best first, each with how often chance gives such a one',
    )
    .argument('<raster>', 'GeoTIFF, ASCII grid, JPEG or PNG, with world and .prj files beside it')
    .option(
      '--kind <kind>',
      'ring, pit or line (ditches, banks, trackways, and enclosures of them)',
      oneOf('--kind', ['ring', 'pit', 'line']),
      'ring',
    )
    .option(
      '--diameter <a..b>',
      'of rings and pits: range of diameters, metres (pixels without a coordinate system)',
      range('--diameter', '8..40'),
    )
    .option('--width <a..b>', 'of lines: range of widths, likewise', range('--width', '1..4'))
    .option('--length <l>', 'of lines: leave out shorter ones, likewise', positive('--length'))
    .option('--tone <tone>', 'dark, light or either', oneOf('--tone', ['dark', 'light', 'either']), 'either')
    .option('--max <n>', 'list no more candidates than this', positive('--max'), 200)
    .option(
      '--view <view>',
      'what is looked at: as-is, an index of a picture, a relief view of a terrain',
      'as-is',
    )
    .option('--out <file>', 'write the candidates as GeoJSON')
    .option(
      '--crs <system>',
      'coordinates of --out: wgs84 or layer',
      oneOf('--crs', ['wgs84', 'layer']),
      'wgs84',
    )
    .option('--json', 'print the result as JSON')
    .action(async (raster: string, options: MarksOptions) => {
      const { kind, tone, max, view, out, crs, json } = options
      const line = progressLine(terminal)
      const wishes = { raster, ...sizesOf(options), tone, most: Math.floor(max), view, outSystem: crs }
      const result = await marksOfFile(out === undefined ? wishes : { ...wishes, out }, {
        progress: line.tell,
      }).finally(line.clear)
      for (const { text } of result.faults) terminal.err(`${text}\n`)
      terminal.out(json ? `${JSON.stringify(result)}\n` : inWords(result, kind))
    })
}
