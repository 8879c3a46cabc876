import { type Command, Option } from 'commander'
import { type ExportFormat, type ExportWhat, exportFormats, exportWhats, usualNameLength } from '#contract'
import { type ExportWishes, exportToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError, wholeFrom } from './terminal.ts'

interface ExportOptions {
  as: ExportFormat
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

export function exportCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('export')
    .description(`write part of a survey to a file: ${exportWhats.join(', ')}`)
    .argument('<survey>', 'survey file (.gpkg)')
    .argument('<what>', exportWhats.join(' | '))
    .addOption(new Option('--as <format>', 'kind of file').choices(exportFormats).makeOptionMandatory())
    .requiredOption('--out <file>', 'file to write')
    .option('--plan <id>', 'whose lanes, else those of the plan kept last', wholeFrom('--plan', 1, 2 ** 31))
    .option(
      '--name-length <n>',
      'most characters of the names of lanes and targets',
      wholeFrom('--name-length', 1, 255),
    )
    .option('--ascii', 'names of lanes and targets without accents')
    .option('--json', 'print the result as JSON')
    .action((survey: string, what: string, options: ExportOptions) => {
      if (!(exportWhats as readonly string[]).includes(what)) {
        throw new UsageError(`"${what}" cannot be exported; choose one of ${exportWhats.join(', ')}.`)
      }
      const reply = exportToFile(survey, what as ExportWhat, options.as, options.out, wishesOf(options))
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.features} ${what} to ${reply.written}.\n`)
    })
}
