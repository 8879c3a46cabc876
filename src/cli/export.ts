import { type Command, Option } from 'commander'
import {
  type ExportFormat,
  type ExportReply,
  type ExportWhat,
  exportFormats,
  exportWhats,
  type FindsFormat,
  findsFormats,
} from '#contract'
import { exportFindsToFile, exportToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError } from './terminal.ts'

const allFormats = [...new Set<string>([...exportFormats, ...findsFormats])]
const isOf = <Name extends string>(name: string, of: readonly Name[]): name is Name =>
  (of as readonly string[]).includes(name)

interface ExportWishes {
  readonly as: string
  readonly out: string
  readonly public?: true
  readonly json?: true
}

/** Finds have forms of their own; in GPX and KML they are written as findspots are. */
async function exported(
  survey: string,
  what: string,
  { as, out, public: open }: ExportWishes,
): Promise<ExportReply> {
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
  return exportToFile(survey, what, as, out)
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
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, what: string, options: ExportWishes) => {
      const reply = await exported(survey, what, options)
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.features} ${what} to ${reply.written}.\n`)
    })
}
