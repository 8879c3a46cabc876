import { Button } from '@mantine/core'
import { IconZoomScan } from '@tabler/icons-react'
import type { LayerView, MarkTone } from '#contract'
import { Notice, NumberRow, ProgressBar, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { sentenceOf } from '../api/request.ts'
import { isPlaced, type SeenLayer } from '../layers/layer-looks.ts'
import { nameWithYear } from '../layers/layer-words.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { plainView, viewWords } from '../layers/view-words.ts'
import { cancelJob, jobOfKind, runningJobs } from '../state/jobs.ts'
import { useStore } from '../state/store.ts'
import classes from './marks.module.css'
import { type SearchForm, searchFault, searchForm, searchOutcome } from './marks-state.ts'

const tones: readonly { readonly value: MarkTone; readonly text: string }[] = [
  { value: 'either', text: 'Dark or light' },
  { value: 'dark', text: 'Dark, as a ditch in crop' },
  { value: 'light', text: 'Light, as stone in crop' },
]

const within = (least: number, most: number, unit: string) => (value: number) =>
  value >= least && value <= most ? null : `Give a value from ${least} to ${most}${unit}.`

const change = (patch: Partial<SearchForm>): void => searchForm.set((now) => ({ ...now, ...patch }))

async function start(layerId: number, view: LayerView, form: SearchForm): Promise<void> {
  searchFault.set(null)
  searchOutcome.set(null)
  const { minDiameterM, maxDiameterM, tone, most } = form
  try {
    await deskApi.searchMarks({ layerId, view, minDiameterM, maxDiameterM, tone, most })
  } catch (error) {
    searchFault.set(sentenceOf(error))
  }
}

/** The layer and the view that the form stands for now. */
function soughtIn(layers: readonly SeenLayer[], form: SearchForm) {
  const seen = layers.find(({ layer }) => layer.id === form.layerId) ?? layers[0]!
  const view = form.view && seen.layer.views.includes(form.view) ? form.view : seen.look.view.view
  // The numbers of the view are those it is looked at by.
  return { seen, view: plainView({ ...seen.look.view, view }) }
}

function Fields({ layers, form }: { readonly layers: readonly SeenLayer[]; readonly form: SearchForm }) {
  const { seen, view } = soughtIn(layers, form)
  const { layer } = seen
  return (
    <>
      <SelectRow
        label="On"
        value={String(layer.id)}
        choices={layers.map((each) => ({ value: String(each.layer.id), text: nameWithYear(each.layer) }))}
        onChange={(id) => change({ layerId: Number(id), view: null })}
      />
      <SelectRow
        label="Seen as"
        value={view.view}
        choices={layer.views.map((value) => ({ value, text: viewWords[value].name }))}
        onChange={(next) => change({ layerId: layer.id, view: next })}
      />
      <SelectRow label="Tone" value={form.tone} choices={tones} onChange={(tone) => change({ tone })} />
      <NumberRow
        label="Diameter from"
        unit="m"
        value={form.minDiameterM}
        refuse={within(0.5, 500, ' m')}
        onChange={(value) => value !== null && change({ minDiameterM: value })}
      />
      <NumberRow
        label="Diameter to"
        unit="m"
        value={form.maxDiameterM}
        refuse={within(0.5, 500, ' m')}
        onChange={(value) => value !== null && change({ maxDiameterM: value })}
      />
      <NumberRow
        label="At most"
        hint="The best so many are kept"
        value={form.most}
        refuse={(value) =>
          Number.isInteger(value) && value >= 1 && value <= 1000
            ? null
            : 'Give a whole number from 1 to 1000.'
        }
        onChange={(value) => value !== null && change({ most: value })}
      />
    </>
  )
}

/** Looks for rings on one picture, as it is seen in one view. */
export function SearchSection({ layers }: { readonly layers: readonly SeenLayer[] }) {
  const form = useStore(searchForm)
  const fault = useStore(searchFault)
  const outcome = useStore(searchOutcome)
  const job = jobOfKind(useStore(runningJobs), 'marks')
  const placed = layers.filter(({ layer }) => isPlaced(layer))
  if (placed.length === 0) return null
  const { seen, view } = soughtIn(placed, form)
  return (
    <Section title="Look for rings">
      <div className={`${classes.form} ${classes.search}`}>
        <Fields layers={placed} form={form} />
        {job ? (
          <ProgressBar label={job.label} done={job.done} onCancel={() => cancelJob(job.id)} />
        ) : (
          <Button
            fullWidth
            leftSection={<IconZoomScan size={18} aria-hidden="true" />}
            onClick={() => void start(seen.layer.id, view, form)}
          >
            Look for rings
          </Button>
        )}
        <div role="status">{outcome && !job ? <Notice tone="plain">{outcome}</Notice> : null}</div>
        {fault && !job ? <Notice tone="fault">{fault}</Notice> : null}
      </div>
    </Section>
  )
}
