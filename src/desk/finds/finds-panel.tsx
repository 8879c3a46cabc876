import { ActionIcon, Button } from '@mantine/core'
import { IconArrowsDiagonal, IconArrowsDiagonalMinimize2 } from '@tabler/icons-react'
import { lazy, type ReactNode, Suspense, useEffect } from 'react'
import type { FindRow, SurveyView } from '#contract'
import { EmptyState, Panel } from '#ui'
import { FilesButton } from '../files/files-button.tsx'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { FindList } from './find-list.tsx'
import { useFinds } from './finds-data.ts'
import classes from './finds-panel.module.css'
import { entering, type FindsView, findsView, findViews, openFind, wideCatalogue } from './finds-state.ts'
import { RecordCard } from './record-card.tsx'
import { useShownFinds } from './shown-finds.ts'

const CheckIn = lazy(() =>
  import('./check-in.tsx').then(({ CheckIn: component }) => ({ default: component })),
)
const JoinsReview = lazy(() =>
  import('./joins-review.tsx').then(({ JoinsReview: component }) => ({ default: component })),
)
const DatingPart = lazy(() =>
  import('./dating-part.tsx').then(({ DatingPart: component }) => ({ default: component })),
)

const WordsPart = lazy(() =>
  import('./words-part.tsx').then(({ WordsPart: component }) => ({ default: component })),
)

const viewNames: Readonly<Record<FindsView, string>> = {
  catalogue: 'Catalogue',
  'check-in': 'Check in',
  joins: 'Joins',
  dating: 'Dating',
  words: 'Words',
}

interface FindsPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

/** Finds: the catalogue, and what is done with it; linked with the map both ways. */
export function FindsPanel({ survey, aside }: FindsPanelProps) {
  const view = useStore(findsView)
  const wide = useStore(wideCatalogue)
  const desk = useWide()
  const rows = useFinds()
  const buttons = (
    <>
      {desk ? (
        <ActionIcon
          aria-label={wide ? 'Make the panel narrow' : 'Make the panel wide'}
          title={wide ? 'Make the panel narrow' : 'Make the panel wide'}
          onClick={() => wideCatalogue.set(!wide)}
        >
          {wide ? (
            <IconArrowsDiagonalMinimize2 size={20} aria-hidden="true" />
          ) : (
            <IconArrowsDiagonal size={20} aria-hidden="true" />
          )}
        </ActionIcon>
      ) : null}
      {aside}
    </>
  )
  useFollowMap(rows)
  return (
    <Panel title="Finds" aside={buttons}>
      <div className={classes.fill}>
        <nav className={classes.views} aria-label="Ways to look at the finds">
          {findViews.map((name) => (
            <button
              key={name}
              type="button"
              aria-current={name === view ? 'true' : undefined}
              onClick={() => findsView.set(name)}
            >
              {viewNames[name]}
            </button>
          ))}
        </nav>
        {view === 'catalogue' ? <Catalogue survey={survey} rows={rows} /> : null}
        <Suspense>
          {view === 'check-in' ? <CheckIn rows={rows} /> : null}
          {view === 'joins' ? <JoinsReview rows={rows} /> : null}
          {view === 'dating' ? <DatingPart rows={rows} /> : null}
          {view === 'words' ? <WordsPart rows={rows} /> : null}
        </Suspense>
      </div>
    </Panel>
  )
}

/** A findspot chosen on the map opens its find, where it has one. */
function useFollowMap(rows: readonly FindRow[]): void {
  const chosen = useStore(selection)
  const spot = chosen?.kind === 'findspot' ? chosen.id : null
  useEffect(() => {
    if (spot === null) return
    const open = openFind.get()
    if (rows.some(({ id, findspot }) => id === open && findspot === spot)) return
    const there = rows.find(({ findspot }) => findspot === spot)
    openFind.set(there?.id ?? null)
    if (there) findsView.set('catalogue')
  }, [spot, rows])
}

function Catalogue({ survey, rows }: { readonly survey: SurveyView; readonly rows: readonly FindRow[] }) {
  const open = useStore(openFind)
  const asked = useStore(wideCatalogue)
  const desk = useWide()
  const wide = asked && desk
  const adding = useStore(entering)
  const shown = useShownFinds(rows)
  if (rows.length === 0 && !adding && survey.counts.findspots === 0) return <NothingYet />
  const card = open === null ? null : <RecordCard key={open} id={open} />
  if (!wide)
    return card === null ? (
      <FindList rows={rows} shown={shown} adding={adding} />
    ) : (
      <div className={classes.scroll}>{card}</div>
    )
  return (
    <div className={classes.beside} data-open={card !== null || undefined}>
      <div className={classes.fill}>
        <FindList rows={rows} shown={shown} adding={adding} />
      </div>
      {card === null ? null : <div className={classes.scroll}>{card}</div>}
    </div>
  )
}

function NothingYet() {
  return (
    <EmptyState
      title="No find yet"
      action={
        <div className={classes.actions}>
          <Button onClick={() => entering.set(true)}>Enter a find</Button>
          <FilesButton label="Choose files" />
        </div>
      }
    >
      Enter finds one by one, or add findspots as GPX, KML, GeoJSON or CSV: drop the file anywhere on this
      page. A table needs columns for the place: latitude and longitude, easting and northing, or a grid
      reference.
    </EmptyState>
  )
}
