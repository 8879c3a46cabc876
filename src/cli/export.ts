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
import { type ExportWishes, exportFindsToFile, exportToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError, wholeFrom } from './terminal.ts'

interface ExportOptions {
  as: string
  public?: true
  out: string
  plan?: number
  nameLength?: number
  ascii?: true
  json?: true
}

function wishesOf({ plan, nameLength, ascii }: ExportOptions): ExportWishes {
  const cut = nameLength !== undefined || ascii === true
  return {
    ...(plan === undefined ? {} : { plan }),
    ...(cut ? { names: { length: nameLength ?? usualNameLength, ascii: ascii === true } } : {}),
  }
}

const allFormats = [...new Set<string>([...exportFormats, ...findsFormats])]
const isOf = <Name extends string>(name: string, of: readonly Name[]): name is Name =>
  (of as readonly string[]).includes(name)

/** Finds have forms of their own; in GPX and KML they are written as findspots are. */
async function exported(survey: string, what: string, options: ExportOptions): Promise<ExportReply> {
  const { as, out, public: open } = options
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
    .argument('<what>', exportWhats.join(' | '))
    .addOption(new Option('--as <format>', 'kind of file').choices(allFormats).makeOptionMandatory())
    .requiredOption('--out <file>', 'file to write')
    .option('--public', 'for everybody: finds only, no finer than a square kilometre, no people named')
    .option('--plan <id>', 'whose lanes, else those of the plan kept last', wholeFrom('--plan', 1, 2 ** 31))
    .option(
      '--name-length <n>',
      'most characters of the names of lanes and targets',
      wholeFrom('--name-length', 1, 255),
    )
    .option('--ascii', 'names of lanes and targets without accents')
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, what: string, options: ExportOptions) => {
      const reply = await exported(survey, what, options)
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.features} ${what} to ${reply.written}.\n`)
    })
}
