import type { Command } from 'commander'
import type { CommandLineParts } from './command-line.ts'
import { UsageError } from './terminal.ts'

export interface OpenWishes {
  /** A survey file to open; undefined opens the demo survey or the one last open in the folder. */
  readonly survey: string | undefined
  /** The folder of surveys; undefined is the user's own. */
  readonly home: string | undefined
  /** 0 lets the machine choose. */
  readonly port: number
  readonly browser: boolean
}

/** Starts the desk and gives its address; `ended` settles when it stops. */
export type OpenDesk = (
  wishes: OpenWishes,
) => Promise<{ readonly address: string; readonly ended: Promise<void> }>

function portNumber(word: string): number {
  const port = Number(word)
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new UsageError(`--port takes 0 to 65535, not "${word}".`)
  return port
}

export function openCommand(root: Command, { terminal, openDesk }: CommandLineParts): void {
  root
    .command('open')
    .description('start the desk, on the demo survey where no other is named')
    .argument('[survey]', 'survey file (.gpkg)')
    .option('--home <folder>', 'folder of surveys (else $LYNCHET_HOME, else Lynchet in your home folder)')
    .option('--port <number>', 'port on this machine; 0 lets the machine choose', portNumber, 0)
    .option('--no-browser', 'print the address only')
    .option('--json', 'print {"address": …} on stdout')
    .action(
      async (
        survey: string | undefined,
        options: { home?: string; port: number; browser: boolean; json?: true },
      ) => {
        const desk = await openDesk({
          survey,
          home: options.home,
          port: options.port,
          browser: options.browser,
        })
        if (options.json) terminal.out(`${JSON.stringify({ address: desk.address })}\n`)
        else
          terminal.out(
            `The desk is open at ${desk.address}\nIt serves this machine only. Stop it with Ctrl+C.\n`,
          )
        await desk.ended
      },
    )
}
