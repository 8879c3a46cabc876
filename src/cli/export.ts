import { type Command, Option } from 'commander'
import {
  type ExportFormat,
  type ExportReply,
  type ExportWhat,
  exportFormats,
  exportWhats,
  type FindsFormat,
  findsFormats,
  usualNameLength,
} from '#contract'
import { type ExportWishes, exportFindsToFile, exportPackToFile, exportToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { positive, UsageError, wholeFrom } from './terminal.ts'

interface ExportOptions {
  as?: string
  public?: true
  out: string
  plan?: number
  nameLength?: number
  ascii?: true
  layers?: number[]
  side?: number
  mostMb?: number
  json?: true
}

function wishesOf({ plan, nameLength, ascii }: ExportOptions): ExportWishes {
  const cut = nameLength !== undefined || ascii === true
  return {
    ...(plan === undefined ? {} : { plan }),
    ...(cut ? { names: { length: nameLength ?? usualNameLength, ascii: ascii === true } } : {}),
  }
}

function idsOf(word: string): number[] {
  const ids = word.split(',').map(Number)
  if (ids.every((id) => Number.isInteger(id) && id > 0)) return ids
  throw new UsageError(`--layers takes the ids of layers with commas between, not "${word}".`)
}

const allFormats = [...new Set<string>([...exportFormats, ...findsFormats])]
const isOf = <Name extends string>(name: string, of: readonly Name[]): name is Name =>
  (of as readonly string[]).includes(name)

/** Finds have forms of their own; in GPX and KML they are written as findspots are. */
async function exported(survey: string, what: string, options: ExportOptions): Promise<ExportReply> {
  const { as, out, plan, public: open } = options
  if (what === 'pack') {
    if (as !== undefined) throw new UsageError('A pack has one form: leave --as out.')
    const { layers, side, mostMb } = options
    return exportPackToFile(survey, plan, out, {
      ...(layers === undefined ? {} : { layers }),
      ...(side === undefined ? {} : { sidePx: side }),
      ...(mostMb === undefined ? {} : { mostMb }),
    })
  }
  if ((options.layers ?? options.side ?? options.mostMb) !== undefined)
    throw new UsageError('--layers, --side and --most-mb are for a pack.')
  if (as === undefined) throw new UsageError(`--as is needed: one of ${allFormats.join(', ')}.`)
  if (!isOf<ExportWhat>(what, exportWhats)) {
    throw new UsageError(`"${what}" cannot be exported; choose one of ${exportWhats.join(', ')}.`)
  }
  if (what === 'finds' && isOf<FindsFormat>(as, findsFormats)) {
    return exportFindsToFile(survey, { as, public: open === true }, out)
  }
  if (open) throw new UsageError(`--public is for finds as ${findsFormats.join(', ')}.`)
  if (!isOf<ExportFormat>(as, exportFormats)) {
    throw new UsageError(`${what} cannot be written as ${as}; choose one of ${exportFormats.join(', ')}.`)
  }
  return exportToFile(survey, what, as, out, wishesOf(options))
}

export function exportCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('export')
    .description(`write part of a survey to a file: ${exportWhats.join(', ')}`)
    .argument('<survey>', 'survey file (.gpkg)')
    .argument('<what>', [...exportWhats, 'pack'].join(' | '))
    .addOption(new Option('--as <format>', 'kind of file').choices(allFormats))
    .requiredOption('--out <file>', 'file to write')
    .option('--public', 'for everybody: finds only, no finer than a square kilometre, no people named')
    .option('--plan <id>', 'whose lanes, else those of the plan kept last', wholeFrom('--plan', 1, 2 ** 31))
    .option(
      '--name-length <n>',
      'most characters of the names of lanes and targets',
      wholeFrom('--name-length', 1, 255),
    )
    .option('--ascii', 'names of lanes and targets without accents')
    .option('--layers <ids>', 'layers that go out with a pack, by id: 1,2', idsOf)
    .option('--side <px>', 'longest side of their pictures', wholeFrom('--side', 256, 8192))
    .option('--most-mb <mb>', 'all their pictures together, millions of bytes', positive('--most-mb'))
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, what: string, options: ExportOptions) => {
      const reply = await exported(survey, what, options)
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else
        terminal.out(
          `Wrote ${what === 'pack' ? 'the walk pack' : `${reply.features} ${what}`} to ${reply.written}.\n`,
        )
    })
}
