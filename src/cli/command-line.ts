import { Command, CommanderError } from 'commander'
import { checkCommand } from './check.ts'
import { coordsCommand } from './coords.ts'
import { coverCommand } from './cover.ts'
import { demoCommand } from './demo.ts'
import { exportCommand } from './export.ts'
import { importCommand } from './import.ts'
import { labelsCommand } from './labels.ts'
import { lanesCommand } from './lanes.ts'
import { marksCommand } from './marks.ts'
import { type OpenDesk, openCommand } from './open.ts'
import { reliefCommand } from './relief.ts'
import { reportCommand } from './report.ts'
import { exitCodes, explain, type Terminal } from './terminal.ts'

export interface CommandLineParts {
  readonly terminal: Terminal
  readonly version: string
  /** Starts the desk: handed in, for the command line knows nothing of the server. */
  readonly openDesk: OpenDesk
}

const commands = {
  open: openCommand,
  demo: demoCommand,
  import: importCommand,
  export: exportCommand,
  cover: coverCommand,
  lanes: lanesCommand,
  marks: marksCommand,
  coords: coordsCommand,
  relief: reliefCommand,
  check: checkCommand,
  labels: labelsCommand,
  report: reportCommand,
}

export const commandNames: readonly string[] = Object.keys(commands)

function program(parts: CommandLineParts): Command {
  const { terminal } = parts
  const root = new Command('lynchet')
    .description(
      'From a walked track to the ground that was missed. Each command takes --json for one JSON object on stdout.',
    )
    .version(parts.version)
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err })
    .exitOverride()
    .showHelpAfterError('(lynchet --help lists the commands; lynchet VERB --help tells of one)')
  for (const command of Object.values(commands)) command(root, parts)
  for (const child of root.commands) child.exitOverride().copyInheritedSettings(root)
  return root
}

/**
 * Runs one command line and gives the exit code: 0 done, 1 a fault in the data or the world, 2 wrong usage.
 * `words` are those after the program's name.
 */
export async function runCommandLine(words: readonly string[], parts: CommandLineParts): Promise<number> {
  try {
    await program(parts).parseAsync([...words], { from: 'user' })
    return exitCodes.done
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? exitCodes.done : exitCodes.usage
    const { code, sentence } = explain(error)
    parts.terminal.err(`lynchet: ${sentence}\n`)
    return code
  }
}
