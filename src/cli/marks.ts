import type { Command } from 'commander'
import { type MarksOfFile, marksOfFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { positive, progressLine, UsageError } from './terminal.ts'

interface MarksOptions {
  kind: 'ring' | 'pit'
  diameter: { from: number; to: number }
  tone: 'dark' | 'light' | 'either'
  max: number
  view: string
  out?: string
  crs: 'wgs84' | 'layer'
  json?: true
}

function range(word: string): { from: number; to: number } {
  const found = /^(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?)$/.exec(word.trim())
  if (!found)
    throw new UsageError(`--diameter takes two numbers with two points between, as 8..40, not "${word}".`)
  return { from: Number(found[1]), to: Number(found[2]) }
}

function oneOf<Word extends string>(name: string, words: readonly Word[]): (word: string) => Word {
  return (word) => {
    if (!(words as readonly string[]).includes(word))
      throw new UsageError(`${name} takes one of ${words.join(', ')}, not "${word}".`)
    return word as Word
  }
}

function inWords({ candidates, unit, seconds, written }: MarksOfFile): string {
  const m = unit === 'metres' ? 'm' : 'px'
  const rows = candidates.map(
    ({ x, y, diameter, tone, completeness, score, falseAlarmsPerKm2, falseAlarmsPerMpx }, i) =>
      [
        String(i + 1).padStart(4),
        x.toFixed(1).padStart(11),
        y.toFixed(1).padStart(11),
        `${diameter.toFixed(1)} ${m}`.padStart(9),
        tone.padStart(5),
        (completeness === null ? '-' : `${Math.round(completeness * 100)} %`).padStart(6),
        (score?.toFixed(3) ?? '-').padStart(6),
        (falseAlarmsPerKm2 ?? falseAlarmsPerMpx).toPrecision(2).padStart(9),
      ].join('  '),
  )
  const rate = unit === 'metres' ? 'square kilometre' : 'million pixels'
  return [
    `${candidates.length} candidates in ${seconds.toFixed(1)} s, best first; each is a question, not an answer.`,
    `  No          x            y   diameter   tone    seen   score  such a ${rate} by chance`,
    ...rows,
    ...(written === null ? [] : [`Written to ${written}`]),
    '',
  ].join('\n')
}

export function marksCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('marks')
    .description(
      'ring or pit candidates in an image or terrain model, best first, each with how often chance gives such a one',
    )
    .argument('<raster>', 'GeoTIFF, ASCII grid, JPEG or PNG, with world and .prj files beside it')
    .option('--kind <kind>', 'ring or pit', oneOf('--kind', ['ring', 'pit']), 'ring')
    .requiredOption(
      '--diameter <a..b>',
      'range of diameters, metres (pixels without a coordinate system)',
      range,
    )
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
      const { kind, diameter, tone, max, view, out, crs, json } = options
      const line = progressLine(terminal)
      const wishes = { raster, kind, diameter, tone, most: Math.floor(max), view, outSystem: crs }
      const result = await marksOfFile(out === undefined ? wishes : { ...wishes, out }, {
        progress: line.tell,
      }).finally(line.clear)
      for (const { text } of result.faults) terminal.err(`${text}\n`)
      terminal.out(json ? `${JSON.stringify(result)}\n` : inWords(result))
    })
}
