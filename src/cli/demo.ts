import type { Command } from 'commander'
import { writeDemoSurvey } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { progressLine } from './terminal.ts'

export function demoCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('demo')
    .description(
      'write the demo survey: an invented farm on open sea in the Wash, so that nobody’s land is meant',
    )
    .argument('<survey>', 'survey file to write (.gpkg); it must not exist')
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, options: { json?: true }) => {
      const line = progressLine(terminal)
      const written = await writeDemoSurvey(survey, { progress: line.tell }).finally(line.clear)
      if (options.json) terminal.out(`${JSON.stringify(written)}\n`)
      else terminal.out(`Wrote ${written.written}. See it with: lynchet open ${written.written}\n`)
    })
}
