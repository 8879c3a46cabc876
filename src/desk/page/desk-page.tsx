import { ActionIcon } from '@mantine/core'
import { IconChevronDown, IconChevronLeft, IconChevronUp } from '@tabler/icons-react'
import { lazy, type ReactNode, Suspense, useEffect, useState } from 'react'
import type { SurveyView } from '#contract'
import { Notice } from '#ui'
import { forgetOtherLists, useSurvey } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { DropTarget } from '../files/drop-target.tsx'
import { closeSummary } from '../files/import-queue.ts'
import { FindsPanel } from '../finds/finds-panel.tsx'
import { forgetFinds, wideCatalogue } from '../finds/finds-state.ts'
import { dropDraft } from '../land/area-draft.ts'
import { LandPanel } from '../land/land-panel.tsx'
import { openPermission } from '../land/permission-draft.ts'
import { forgetLanes } from '../lanes/lanes-state.ts'
import { PlanPanel } from '../lanes/plan-panel.tsx'
import { takeUpLooks } from '../layers/layer-looks.ts'
import { MarksPanel } from '../layers/marks-panel.tsx'
import { placedLayer } from '../layers/tie-state.ts'
import { MapView } from '../map/map-view.tsx'
import { forgetSearch } from '../marks/marks-state.ts'
import { endMeasure } from '../measure/measure-state.ts'
import { forgetPhotographs } from '../photographs/matching-state.ts'
import { dropPlace } from '../places/shown-place.ts'
import { coverFault } from '../state/cover-run.ts'
import { openDialog, panelOpen, selection, stage } from '../state/desk-state.ts'
import { clearNotices } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { VisitsPanel } from '../visits/visits-panel.tsx'
import { forgetVisits } from '../visits/visits-state.ts'
import { Cards, useCardsAt } from './cards.tsx'
import { useDeskKeys } from './desk-keys.ts'
import classes from './desk-page.module.css'
import { Messages } from './messages.tsx'
import { StageRail } from './stage-rail.tsx'
import { TopBar } from './top-bar.tsx'
import { Tour } from './tour.tsx'

const Dialogs = lazy(() =>
  import('../survey/dialogs.tsx').then(({ Dialogs: component }) => ({ default: component })),
)

const TiePage = lazy(() =>
  import('../layers/tie-page.tsx').then(({ TiePage: component }) => ({ default: component })),
)

const panels = { land: LandPanel, marks: MarksPanel, plan: PlanPanel, visits: VisitsPanel, finds: FindsPanel }

/** Buttons at the head of a panel: fold it away; on a narrow page also make it tall. */
function PanelButtons({
  tall,
  setTall,
}: {
  readonly tall: boolean
  readonly setTall: (tall: boolean) => void
}) {
  const wide = useWide()
  return (
    <>
      {wide ? null : (
        <ActionIcon
          aria-label={tall ? 'Make the panel lower' : 'Make the panel taller'}
          onClick={() => setTall(!tall)}
          size={40}
        >
          {tall ? (
            <IconChevronDown size={20} aria-hidden="true" />
          ) : (
            <IconChevronUp size={20} aria-hidden="true" />
          )}
        </ActionIcon>
      )}
      {wide ? (
        <ActionIcon aria-label="Fold the panel away" onClick={() => panelOpen.set(false)}>
          <IconChevronLeft size={20} aria-hidden="true" />
        </ActionIcon>
      ) : null}
    </>
  )
}

function StagePanel({ survey, aside }: { readonly survey: SurveyView | null; readonly aside: ReactNode }) {
  const now = useStore(stage)
  const { error } = useSurvey()
  if (!survey) return error ? <Notice tone="fault">{sentenceOf(error)}</Notice> : null
  const StagePart = panels[now]
  return <StagePart survey={survey} aside={aside} />
}

/** The desk: rail, panel and map, and what comes over them. */
export function DeskPage() {
  const { survey } = useSurvey()
  const open = useStore(panelOpen)
  const dialog = useStore(openDialog)
  const placing = useStore(placedLayer) !== null
  const [tall, setTall] = useState(false)
  const cardsAt = useCardsAt()
  const inFinds = useStore(stage) === 'finds'
  const wideFinds = useStore(wideCatalogue) && inFinds
  const cards = <Cards survey={survey} />
  useDeskKeys()
  const file = survey?.file
  // What was chosen and what came in belong to the survey that was open.
  useEffect(() => {
    if (file === undefined) return
    forgetOtherLists(file)
    takeUpLooks(file)
    selection.set(null)
    forgetFinds(file)
    dropDraft()
    forgetSearch()
    forgetLanes()
    openPermission.set(null)
    dropPlace()
    endMeasure()
    closeSummary()
    clearNotices()
    coverFault.set(null)
    forgetVisits()
    forgetPhotographs()
  }, [file])
  const gridless = survey?.grid === null
  useEffect(() => {
    if (!gridless) return
    dropPlace()
    endMeasure()
  }, [gridless])
  useEffect(() => {
    if (survey) document.title = `${survey.title} · Lynchet`
  }, [survey])

  return (
    <div className={classes.desk}>
      <a className={classes.skip} href="#map">
        Skip to the map
      </a>
      <StageRail />
      <TopBar survey={survey} />
      <div
        id="panel"
        className={classes.panel}
        hidden={!open && cardsAt !== 'panel'}
        data-tall={tall || undefined}
        data-wide={wideFinds || undefined}
      >
        {cardsAt === 'panel' ? (
          <section className={classes.cards} aria-label="Places and measures">
            <h1 className="only-read">Places and measures</h1>
            {cards}
          </section>
        ) : null}
        <div className={classes.stage} hidden={cardsAt === 'panel'}>
          <StagePanel survey={survey} aside={<PanelButtons tall={tall} setTall={setTall} />} />
        </div>
      </div>
      <MapView
        survey={survey}
        cards={cardsAt === 'map' ? cards : null}
        messages={
          <>
            <Messages />
            <Tour survey={survey} />
          </>
        }
      />
      <DropTarget />
      {placing ? (
        <Suspense>
          <TiePage />
        </Suspense>
      ) : null}
      {dialog ? (
        <Suspense>
          <Dialogs survey={survey} />
        </Suspense>
      ) : null}
    </div>
  )
}
