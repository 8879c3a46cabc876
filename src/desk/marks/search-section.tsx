import { Button } from '@mantine/core'
import { IconZoomScan } from '@tabler/icons-react'
import {
  lineLengthM,
  lineWidthM,
  type MarkTone,
  markDiameterM,
  mostCandidates,
  type SoughtKind,
  soughtKinds,
} from '#contract'
import { leastDiameterPx } from '#core/marks'
import { Notice, NumberRow, ProgressBar, Section } from '#ui'
import { isPlaced, type SeenLayer } from '../layers/layer-looks.ts'
import { nameWithYear } from '../layers/layer-words.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { plainView, viewWords } from '../layers/view-words.ts'
import { cancelJob, jobOfKind, runningJobs } from '../state/jobs.ts'
import { useStore } from '../state/store.ts'
import { groupNames } from './mark-words.ts'
import classes from './marks.module.css'
import {
  changeForm,
  type LineForm,
  type RoundForm,
  type SearchForm,
  searchFault,
  searchForm,
  searchOf,
  searchOutcome,
  startSearch,
} from './search-state.ts'

const asWhat: Readonly<Record<SoughtKind, Readonly<Record<'dark' | 'light', string>>>> = {
  ring: { dark: 'a ditch in crop', light: 'stone in crop' },
  pit: { dark: 'a filled pit in crop', light: 'stones in crop' },
  line: { dark: 'a ditch in crop', light: 'a wall in crop' },
}

/** What is dark or light in a view of a terrain depends on the view, so there it is not said what it may be. */
function tonesOf(kind: SoughtKind, terrain: boolean): { readonly value: MarkTone; readonly text: string }[] {
  const { dark, light } = asWhat[kind]
  return [
    { value: 'either', text: 'Dark or light' },
    { value: 'dark', text: terrain ? 'Dark in this view' : `Dark, as ${dark}` },
    { value: 'light', text: terrain ? 'Light in this view' : `Light, as ${light}` },
  ]
}

const within = (least: number, most: number) => (value: number) =>
  value >= least && value <= most ? null : `Give a value from ${least} to ${most} m.`

interface MetresRowProps {
  readonly label: string
  readonly value: number
  readonly range: { readonly least: number; readonly most: number }
  readonly hint?: string | null
  readonly onChange: (value: number) => void
}

function MetresRow({ label, value, range, hint = null, onChange }: MetresRowProps) {
  return (
    <NumberRow
      label={label}
      unit="m"
      value={value}
      {...(hint === null ? {} : { hint })}
      refuse={within(range.least, range.most)}
      onChange={(next) => next !== null && onChange(next)}
    />
  )
}

/** The layer and the view that the form stands for now. */
function soughtIn(layers: readonly SeenLayer[], form: SearchForm) {
  const seen = layers.find(({ layer }) => layer.id === form.layerId) ?? layers[0]!
  const view = form.view && seen.layer.views.includes(form.view) ? form.view : seen.look.view.view
  // The numbers of the view are those it is looked at by.
  return { seen, view: plainView({ ...seen.look.view, view }) }
}

function RoundSizes({
  kind,
  form,
  pixelM,
}: {
  readonly kind: 'ring' | 'pit'
  readonly form: RoundForm
  readonly pixelM: number
}) {
  const change = (patch: Partial<RoundForm>): void => changeForm({ [kind]: { ...form, ...patch } })
  const least = leastDiameterPx * pixelM
  return (
    <>
      <MetresRow
        label="Diameter from"
        value={form.minDiameterM}
        range={markDiameterM}
        hint={
          form.minDiameterM < least ? `This picture shows none below ${Number(least.toPrecision(3))} m` : null
        }
        onChange={(minDiameterM) => change({ minDiameterM })}
      />
      <MetresRow
        label="Diameter to"
        value={form.maxDiameterM}
        range={markDiameterM}
        onChange={(maxDiameterM) => change({ maxDiameterM })}
      />
    </>
  )
}

function LineSizes({ form }: { readonly form: LineForm }) {
  const change = (patch: Partial<LineForm>): void => changeForm({ line: { ...form, ...patch } })
  return (
    <>
      <MetresRow
        label="Width from"
        value={form.minWidthM}
        range={lineWidthM}
        onChange={(minWidthM) => change({ minWidthM })}
      />
      <MetresRow
        label="Width to"
        value={form.maxWidthM}
        range={lineWidthM}
        onChange={(maxWidthM) => change({ maxWidthM })}
      />
      <MetresRow
        label="Length at least"
        value={form.leastLengthM}
        range={lineLengthM}
        onChange={(leastLengthM) => change({ leastLengthM })}
      />
    </>
  )
}

function Fields({ layers, form }: { readonly layers: readonly SeenLayer[]; readonly form: SearchForm }) {
  const { seen, view } = soughtIn(layers, form)
  const { layer } = seen
  const { kind } = form
  const { tone, most } = form[kind]
  return (
    <>
      <SelectRow
        label="Look for"
        value={kind}
        choices={soughtKinds.map((value) => ({ value, text: groupNames[value] }))}
        onChange={(next) => changeForm({ kind: next })}
      />
      <SelectRow
        label="On"
        value={String(layer.id)}
        choices={layers.map((each) => ({ value: String(each.layer.id), text: nameWithYear(each.layer) }))}
        onChange={(id) => changeForm({ layerId: Number(id), view: null })}
      />
      <SelectRow
        label="Seen as"
        value={view.view}
        choices={layer.views.map((value) => ({ value, text: viewWords[value].name }))}
        onChange={(next) => changeForm({ layerId: layer.id, view: next })}
      />
      <SelectRow
        label="Tone"
        value={tone}
        choices={tonesOf(kind, layer.kind === 'terrain')}
        onChange={(next) => changeForm({ [kind]: { ...form[kind], tone: next } })}
      />
      {kind === 'line' ? (
        <LineSizes form={form.line} />
      ) : (
        <RoundSizes key={kind} kind={kind} form={form[kind]} pixelM={layer.pixelM} />
      )}
      <NumberRow
        label="At most"
        hint="The best so many are kept"
        value={most}
        refuse={(value) =>
          Number.isInteger(value) && value >= 1 && value <= mostCandidates
            ? null
            : `Give a whole number from 1 to ${mostCandidates}.`
        }
        onChange={(value) => value !== null && changeForm({ [kind]: { ...form[kind], most: value } })}
      />
    </>
  )
}

/** Looks for marks of one kind on one picture, as it is seen in one view. */
export function SearchSection({ layers }: { readonly layers: readonly SeenLayer[] }) {
  const form = useStore(searchForm)
  const fault = useStore(searchFault)
  const outcome = useStore(searchOutcome)
  const job = jobOfKind(useStore(runningJobs), 'marks')
  const placed = layers.filter(({ layer }) => isPlaced(layer))
  if (placed.length === 0) return null
  const { seen, view } = soughtIn(placed, form)
  return (
    <Section title="Look for marks">
      <div className={`${classes.form} ${classes.search}`}>
        <Fields layers={placed} form={form} />
        {job ? (
          <ProgressBar label={job.label} done={job.done} onCancel={() => cancelJob(job.id)} />
        ) : (
          <Button
            fullWidth
            leftSection={<IconZoomScan size={18} aria-hidden="true" />}
            onClick={() => void startSearch(searchOf(form, seen.layer.id, view))}
          >
            Look for {groupNames[form.kind].toLowerCase()}
          </Button>
        )}
        <div role="status">{outcome && !job ? <Notice tone="plain">{outcome}</Notice> : null}</div>
        {fault && !job ? <Notice tone="fault">{fault}</Notice> : null}
      </div>
    </Section>
  )
}
