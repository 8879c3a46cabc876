import { type Command, Option } from 'commander'
import { reportToFile, walkSheetToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'

export function reportCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('report')
    .description(
      'write a PDF: for the landowner, with the ground covered and no findspots; or for a walk, with the lanes of the plan kept last',
    )
    .argument('<survey>', 'survey file (.gpkg)')
    .addOption(
      new Option('--for <reader>', 'who reads it').choices(['landowner', 'walk']).makeOptionMandatory(),
    )
    .requiredOption('--out <file>', 'PDF to write')
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, options: { for: string; out: string; json?: true }) => {
      const reply = await (options.for === 'walk' ? walkSheetToFile : reportToFile)(survey, options.out)
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.written}, ${reply.pages} page(s).\n`)
    })
}
