import { type Command, Option } from 'commander'
import { reportToFile, walkSheetToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError, wholeFrom } from './terminal.ts'

export function reportCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('report')
    .description(
      'write a PDF: for the landowner, with the ground covered and no findspots; or for a walk, with the lanes of a plan',
    )
    .argument('<survey>', 'survey file (.gpkg)')
    .addOption(
      new Option('--for <reader>', 'who reads it').choices(['landowner', 'walk']).makeOptionMandatory(),
    )
    .requiredOption('--out <file>', 'PDF to write')
    .option(
      '--plan <id>',
      'for a walk: whose lanes, else those of the plan kept last',
      wholeFrom('--plan', 1, 2 ** 31),
    )
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, options: { for: string; out: string; plan?: number; json?: true }) => {
      const walk = options.for === 'walk'
      if (!walk && options.plan !== undefined) throw new UsageError('--plan is for a walk.')
      const reply = await (walk
        ? walkSheetToFile(survey, options.out, options.plan)
        : reportToFile(survey, options.out))
      if (options.json) terminal.out(`${JSON.stringify(reply)}\n`)
      else terminal.out(`Wrote ${reply.written}, ${reply.pages} page(s).\n`)
    })
}
