import type { Command } from 'commander'
import type { ImportedFile, ImportReply } from '#contract'
import { SurveyError } from '#core/faults'
import { importFiles } from '#service'
import type { CommandLineParts } from './command-line.ts'
import { epsgCode, progressLine } from './terminal.ts'

/** What came in, in words: '1 track (4,210 fixes), 12 findspots'. */
function addedInWords({ added, kind }: ImportedFile): string {
  if (kind === 'world-file' || kind === 'coordinate-system') return 'says where a picture lies'
  const word = (n: number, one: string): string => `${n.toLocaleString('en-GB')} ${one}${n === 1 ? '' : 's'}`
  const parts = [
    added.tracks > 0
      ? `${word(added.tracks, 'track')} (${word(added.fixes, 'fix').replace('fixs', 'fixes')})`
      : '',
    added.areas > 0 ? word(added.areas, 'area') : '',
    added.findspots > 0 ? word(added.findspots, 'findspot') : '',
    added.finds > 0 ? word(added.finds, 'find') : '',
    added.layers > 0 ? word(added.layers, 'layer') : '',
  ].filter((part) => part !== '')
  return parts.length > 0 ? parts.join(', ') : 'nothing'
}

function replyInWords(reply: ImportReply): string {
  return reply.files
    .map((file) => {
      const head = file.alreadyThere ? 'already in the survey, nothing changed' : addedInWords(file)
      const faults = file.faults.map(
        ({ line, text }) => `  ${line === null ? '' : `line ${line}: `}${text}\n`,
      )
      return `${file.name}: ${head}\n${faults.join('')}`
    })
    .join('')
}

export function importCommand(root: Command, { terminal }: CommandLineParts): void {
  root
    .command('import')
    .description(
      'bring files into a survey: GPX, GeoJSON, KML, KMZ, CSV, xlsx, zipped shapefiles, images, terrain models',
    )
    .argument('<survey>', 'survey file (.gpkg); made when it does not exist')
    .argument('<file...>', 'files to read')
    .option('--epsg <code>', 'coordinate system of images and terrain models that name none', epsgCode)
    .option('--json', 'print the result as JSON')
    .action(async (survey: string, files: string[], options: { json?: true; epsg?: number }) => {
      const line = progressLine(terminal)
      const { json: _, ...wishes } = options
      const reply = await importFiles(survey, files, { progress: line.tell, ...wishes }).finally(line.clear)
      terminal.out(options.json ? `${JSON.stringify(reply)}\n` : replyInWords(reply))
      const unread = reply.files.filter(({ kind }) => kind === null)
      if (unread.length > 0) {
        const [first] = unread[0]!.faults
        throw new SurveyError(
          first?.code ?? 'unknown-kind',
          `Nothing could be read of ${unread.map(({ name }) => name).join(', ')}: ${first?.text ?? ''}`,
        )
      }
    })
}
