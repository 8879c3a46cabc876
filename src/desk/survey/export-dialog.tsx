import { Button, Checkbox } from '@mantine/core'
import { IconDownload } from '@tabler/icons-react'
import { type FormEvent, useState } from 'react'
import {
  type ExportFormat,
  type ExportWhat,
  type FindsFormat,
  type SurveyView,
  usualNameLength,
} from '#contract'
import type { NameLimits } from '#core/lanes'
import { Notice, NumberRow, wholeNumber } from '#ui'
import { useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { openDialog } from '../state/desk-state.ts'
import { tell } from '../state/notices.ts'
import classes from './dialogs.module.css'
import { saveExport, saveFinds, saveLandownerReport } from './save-file.ts'

type Format = ExportFormat | FindsFormat
interface FormatChoice {
  readonly format: Format
  readonly label: string
}

const formats: readonly FormatChoice[] = [
  { format: 'gpx', label: 'GPX' },
  { format: 'kml', label: 'KML' },
  { format: 'geojson', label: 'GeoJSON' },
  { format: 'csv', label: 'CSV' },
]

/** Finds besides: with every field of the catalogue. */
const findsOnly: readonly FormatChoice[] = [
  { format: 'xlsx', label: 'Workbook (xlsx)' },
  { format: 'gpkg', label: 'GeoPackage' },
  { format: 'jsonld', label: 'Linked data' },
  { format: 'pdf', label: 'Catalogue (PDF)' },
]
const ofCatalogue: ReadonlySet<Format> = new Set<Format>(['csv', 'xlsx', 'geojson', 'gpkg', 'jsonld', 'pdf'])

function save(what: Wanted, format: Format, open: boolean, names: NameLimits | null): Promise<string> {
  if (what === 'landowner-report') return saveLandownerReport()
  if (what === 'finds' && ofCatalogue.has(format))
    return saveFinds({ as: format as FindsFormat, public: open })
  return saveExport(what, format as ExportFormat, names)
}

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

function kindsOf(survey: SurveyView, lanes: number): Kind[] {
  const lists: { what: ExportWhat; label: string; count: number }[] = [
    { what: 'gaps', label: 'Gaps', count: survey.cover?.gaps.count ?? 0 },
    { what: 'findspots', label: 'Findspots', count: survey.counts.findspots },
    { what: 'finds', label: 'Finds', count: survey.counts.finds },
    { what: 'areas', label: 'Areas', count: survey.counts.areas },
    { what: 'tracks', label: 'Tracks', count: survey.counts.tracks },
    { what: 'targets', label: 'Targets', count: survey.marks.targets },
    { what: 'lanes', label: 'Lanes of the last plan', count: lanes },
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
  open: 'For everybody: places no finer than their square kilometre, no people, no places of keeping.',
  report:
    'A PDF with the ground covered, the gaps, and what kinds of things were found. No findspots are on it, so it can be given to the landowner.',
} as const

function wordsFor(what: Wanted | null, open: boolean): string {
  if (open) return words.open
  return what === null ? words.nothing : what === 'landowner-report' ? words.report : words.data
}

/** What a handheld can hold of the names of lanes and targets. */
function NameRows({
  names,
  change,
}: {
  readonly names: NameLimits
  readonly change: (names: NameLimits) => void
}) {
  return (
    <div className={classes.stack}>
      <NumberRow
        label="Name length"
        hint="The most characters that the handheld can hold"
        value={names.length}
        refuse={(value) =>
          Number.isInteger(value) && value >= 1 && value <= 255 ? null : 'Give a whole number from 1 to 255.'
        }
        onChange={(value) => value !== null && change({ ...names, length: value })}
      />
      <Checkbox
        label="Names without accents"
        checked={names.ascii}
        onChange={(event) => change({ ...names, ascii: event.currentTarget.checked })}
      />
    </div>
  )
}

/** Chooses what to write and in which form; the browser saves the file. */
export function ExportDialog({ survey }: { readonly survey: SurveyView }) {
  const kinds = kindsOf(survey, useList('plans').at(-1)?.lanes ?? 0)
  const [what, setWhat] = useState<Wanted | null>(kinds.find(({ empty }) => !empty)?.what ?? null)
  const [chosen, setFormat] = useState<Format>('gpx')
  const [wantsOpen, setOpen] = useState(false)
  const offered = what === 'finds' ? [...formats, ...findsOnly] : formats
  const format = offered.some((one) => one.format === chosen) ? chosen : 'gpx'
  const mayBeOpen = what === 'finds' && ofCatalogue.has(format)
  const open = mayBeOpen && wantsOpen
  const [names, setNames] = useState<NameLimits>({ length: usualNameLength, ascii: false })
  const named = what === 'lanes' || what === 'targets'
  const [fault, setFault] = useState<string | null>(null)
  const write = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    if (what === null) return
    try {
      const name = await save(what, format, open, named ? names : null)
      tell('good', `Wrote ${name}.`)
      openDialog.set(null)
    } catch (cause) {
      setFault(sentenceOf(cause))
    }
  }
  return (
    <form className={classes.stack} onSubmit={(event) => void write(event)}>
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
          {offered.map(({ format: name, label }) => (
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
      {named ? <NameRows names={names} change={setNames} /> : null}
      {mayBeOpen ? (
        <label className={classes.choice}>
          <input type="checkbox" checked={open} onChange={() => setOpen(!open)} />A copy for everybody
        </label>
      ) : null}
      {fault === null ? null : <Notice tone="fault">{fault}</Notice>}
      <Notice tone="plain">{wordsFor(what, open)}</Notice>
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
