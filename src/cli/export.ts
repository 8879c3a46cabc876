import { type Command, Option } from 'commander'
import { type ExportFormat, type ExportWhat, exportFormats, exportWhats } from '#contract'
import { exportToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError } from './terminal.ts'

export function exportCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('export')
    .description(`write part of a survey to a file: ${exportWhats.join(', ')}`)
    .argument('<survey>', 'survey file (.gpkg)')
    .argument('<what>', exportWhats.join(' | '))
    .addOption(new Option('--as <format>', 'kind of file').choices(exportFormats).makeOptionMandatory())
    .requiredOption('--out <file>', 'file to write')
    .option('--json', 'print the result as JSON')
    .action((survey: string, what: string, options: { as: ExportFormat; out: string; json?: true }) => {
      if (!(exportWhats as readonly string[]).includes(what)) {
        throw new UsageError(`"${what}" cannot be exported; choose one of ${exportWhats.join(', ')}.`)
      }
      const reply = exportToFile(survey, what as ExportWhat, options.as, options.out)
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.features} ${what} to ${reply.written}.\n`)
    })
}
