import { Button } from '@mantine/core'
import { IconDownload } from '@tabler/icons-react'
import { type FormEvent, useState } from 'react'
import type { ExportFormat, ExportWhat, SurveyView } from '#contract'
import { Notice, wholeNumber } from '#ui'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import { tell } from '../state/notices.ts'
import classes from './dialogs.module.css'
import { saveExport, saveLandownerReport } from './save-file.ts'

const formats: readonly { readonly format: ExportFormat; readonly label: string }[] = [
  { format: 'gpx', label: 'GPX' },
  { format: 'kml', label: 'KML' },
  { format: 'geojson', label: 'GeoJSON' },
  { format: 'csv', label: 'CSV' },
]

/** What can be written: a list of the survey's things as a file of data, or the landowner's report. */
type Wanted = ExportWhat | 'landowner-report'

interface Kind {
  readonly what: Wanted
  readonly label: string
  /** Null for what is not counted. */
  readonly count: number | null
  readonly empty: boolean
}

function notRejected({ marks }: SurveyView): number {
  return marks.candidate + marks.accepted + marks.unsure
}

function kindsOf(survey: SurveyView): Kind[] {
  const lists: { what: ExportWhat; label: string; count: number }[] = [
    { what: 'gaps', label: 'Gaps', count: survey.cover?.gaps.count ?? 0 },
    { what: 'findspots', label: 'Findspots', count: survey.counts.findspots },
    { what: 'finds', label: 'Finds', count: survey.counts.finds },
    { what: 'areas', label: 'Search areas', count: survey.counts.areas },
    { what: 'tracks', label: 'Tracks', count: survey.counts.tracks },
    { what: 'targets', label: 'Targets', count: survey.marks.targets },
    { what: 'marks', label: 'Marks, but those rejected', count: notRejected(survey) },
  ]
  const nothing = lists.every(({ count }) => count === 0)
  return [
    ...lists.map((kind) => ({ ...kind, empty: kind.count === 0 })),
    { what: 'landowner-report', label: 'Landowner’s report', count: null, empty: nothing },
  ]
}

const words = {
  nothing: 'This survey holds nothing yet that could be written.',
  data: 'The file holds exact places. Give it only to those who may know them.',
  report:
    'A PDF with the ground covered, the gaps, and what kinds of things were found. No findspots are on it, so it can be given to the landowner.',
} as const

function wordsFor(what: Wanted | null): string {
  return what === null ? words.nothing : what === 'landowner-report' ? words.report : words.data
}

/** Chooses what to write and in which form; the browser saves the file. */
export function ExportDialog({ survey }: { readonly survey: SurveyView }) {
  const kinds = kindsOf(survey)
  const [what, setWhat] = useState<Wanted | null>(kinds.find(({ empty }) => !empty)?.what ?? null)
  const [format, setFormat] = useState<ExportFormat>('gpx')
  const [fault, setFault] = useState<string | null>(null)
  const save = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    if (what === null) return
    try {
      const name = await (what === 'landowner-report' ? saveLandownerReport() : saveExport(what, format))
      tell('good', `Wrote ${name}.`)
      openDialog.set(null)
    } catch (cause) {
      setFault(sentenceOf(cause))
    }
  }
  return (
    <form className={classes.stack} onSubmit={(event) => void save(event)}>
      <fieldset className={classes.group}>
        <legend>What</legend>
        <div className={classes.choices}>
          {kinds.map((kind) => (
            <label key={kind.what} className={classes.choice}>
              <input
                type="radio"
                name="what"
                value={kind.what}
                checked={what === kind.what}
                disabled={kind.empty}
                onChange={() => setWhat(kind.what)}
              />
              {kind.label}
              <span className={classes.count}>{kind.count === null ? '' : wholeNumber(kind.count)}</span>
            </label>
          ))}
        </div>
      </fieldset>
      <fieldset className={classes.group} hidden={what === 'landowner-report'}>
        <legend>File format</legend>
        <div className={classes.choices}>
          {formats.map(({ format: name, label }) => (
            <label key={name} className={classes.choice}>
              <input
                type="radio"
                name="format"
                value={name}
                checked={format === name}
                onChange={() => setFormat(name)}
              />
              {label}
            </label>
          ))}
        </div>
      </fieldset>
      {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
      <Notice tone="plain">{wordsFor(what)}</Notice>
      <Button
        type="submit"
        disabled={what === null}
        leftSection={<IconDownload size={18} aria-hidden="true" />}
      >
        Save the file
      </Button>
    </form>
  )
}
