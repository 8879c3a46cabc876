import { type Command, Option } from 'commander'
import { labelsToFile } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { UsageError } from './terminal.ts'

function count(name: string): (word: string) => number {
  return (word) => {
    const value = Number(word)
    if (Number.isInteger(value) && value >= 0) return value
    throw new UsageError(`${name} takes a whole number of zero or more, not "${word}".`)
  }
}

export function labelsCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('labels')
    .description(
      'write labels for bags as PDF: one for each find, or blank ones with fresh numbers to take out',
    )
    .argument('<survey>', 'survey file (.gpkg)')
    .option('--out <file>', 'PDF to write (else NAME-labels.pdf in this folder)')
    .option('--sheet <paper>', 'label paper, such as a4-3x8-63.5x33.9, or roll-62x29', 'a4-3x8-63.5x33.9')
    .option('--blank <number>', 'blank labels; their numbers are given out for good', count('--blank'), 0)
    .option('--skip <number>', 'labels of the first sheet that are already used', count('--skip'), 0)
    .addOption(
      new Option('--code <kind>', 'kind of code').choices(['data-matrix', 'qr']).default('data-matrix'),
    )
    .option('--json', 'print the result as JSON')
    .action(
      async (
        survey: string,
        options: {
          out?: string
          sheet: string
          blank: number
          skip: number
          code: 'data-matrix' | 'qr'
          json?: true
        },
      ) => {
        const { json, ...wishes } = options
        const reply = await labelsToFile(survey, wishes)
        if (json) terminal.out(`${JSON.stringify(reply)}\n`)
        else
          terminal.out(
            `Wrote ${reply.labels} label(s) on ${reply.pages} page(s) to ${reply.written}. Print at 100 %, not fitted to the page.\n`,
          )
      },
    )
}
