import { type Command, Option } from 'commander'
import { reportToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'

export function reportCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('report')
    .description('write a report as PDF: for the landowner, with the ground covered and no findspots')
    .argument('<survey>', 'survey file (.gpkg)')
    .addOption(new Option('--for <reader>', 'who reads it').choices(['landowner']).makeOptionMandatory())
    .requiredOption('--out <file>', 'PDF to write')
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, options: { out: string; json?: true }) => {
      const reply = await reportToFile(survey, options.out)
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.written}, ${reply.pages} page(s).\n`)
    })
}
