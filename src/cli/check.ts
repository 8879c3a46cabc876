import type { Command } from 'commander'
import { SurveyError } from '#core/faults'
import { checkSurvey } from '#service'
import type { CommandLineParts } from './command-line.ts'

export function checkCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('check')
    .description('verify a survey: integrity, the originals’ hashes, GeoPackage metadata, photographs')
    .argument('<survey>', 'survey file (.gpkg)')
    .option('--json', 'print the result as JSON')
    .action((survey: string, options: { json?: true }) => {
      const { ok, problems } = checkSurvey(survey)
      if (options.json) terminal.out(`${JSON.stringify({ ok, problems })}\n`)
      else terminal.out(ok ? `${survey} is sound.\n` : problems.map(({ text }) => `${text}\n`).join(''))
      if (!ok) {
        throw new SurveyError(
          'survey-damaged',
          `${survey} has ${problems.length} problem(s); work on with its last backup.`,
        )
      }
    })
}
