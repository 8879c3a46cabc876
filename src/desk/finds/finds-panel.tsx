import { ActionIcon, Button, TextInput } from '@mantine/core'
import { IconArrowsDiagonal, IconArrowsDiagonalMinimize2, IconPlus, IconSearch } from '@tabler/icons-react'
import { lazy, type ReactNode, Suspense, useDeferredValue, useEffect, useMemo, useState } from 'react'
import type { FindRow, RecordPatch, SurveyView } from '#contract'
import { countText, EmptyState, Panel, wholeNumber } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { knownList, useList } from '../api/queries.ts'
import { FilesButton } from '../files/files-button.tsx'
import { FindspotCard } from '../map/findspot-popup.tsx'
import { selection } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { BulkEdit } from './bulk-edit.tsx'
import { ColumnsMenu } from './columns-menu.tsx'
import { searchFinds, sortFinds } from './find-search.ts'
import { changed, showFind, useFinds } from './finds-data.ts'
import classes from './finds-panel.module.css'
import {
  entering,
  type FindsView,
  findsView,
  findViews,
  goToFind,
  openFind,
  picked,
  sortOrder,
  wideCatalogue,
} from './finds-state.ts'
import { FindsTable } from './finds-table.tsx'
import { QuickEntry } from './quick-entry.tsx'
import { RecordCard } from './record-card.tsx'

const CheckIn = lazy(() =>
  import('./check-in.tsx').then(({ CheckIn: component }) => ({ default: component })),
)
const JoinsReview = lazy(() =>
  import('./joins-review.tsx').then(({ JoinsReview: component }) => ({ default: component })),
)
const DatingPart = lazy(() =>
  import('./dating-part.tsx').then(({ DatingPart: component }) => ({ default: component })),
)

const viewNames: Readonly<Record<FindsView, string>> = {
  catalogue: 'Catalogue',
  'check-in': 'Check in',
  joins: 'Joins',
  dating: 'Dating',
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
  if (rows.length === 0 && !adding && survey.counts.findspots === 0) return <NothingYet />
  const card = open === null ? null : <RecordCard key={open} id={open} />
  if (!wide)
    return card === null ? <List rows={rows} adding={adding} /> : <div className={classes.scroll}>{card}</div>
  return (
    <div className={classes.beside} data-open={card !== null || undefined}>
      <div className={classes.fill}>
        <List rows={rows} adding={adding} />
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

/** A text that a scanner may have typed, or a number: its find is opened. */
async function openNamed(text: string): Promise<boolean> {
  try {
    const find = await findsApi.named(text)
    showFind(find)
    const { id, place } = find
    goToFind({
      id,
      findspot: place?.findspot ?? null,
      easting: place?.easting ?? null,
      northing: place?.northing ?? null,
    })
    return true
  } catch (error) {
    tellFault(error)
    return false
  }
}

const looksLikeNumber = (text: string): boolean =>
  /^\s*#?\d{1,6}\s*$|[a-z][a-z0-9]{1,7}-\d{4}-\d{3}/i.test(text)

function List({ rows, adding }: { readonly rows: readonly FindRow[]; readonly adding: boolean }) {
  const [search, setSearch] = useState('')
  const wanted = useDeferredValue(search)
  const order = useStore(sortOrder)
  const chosen = useStore(picked)
  const sorted = useMemo(() => sortFinds(rows, order), [rows, order])
  const shown = useMemo(() => searchFinds(sorted, wanted), [sorted, wanted])
  const ids = useMemo(() => rows.map(({ id }) => id).filter((id) => chosen.has(id)), [rows, chosen])
  const enter = async (): Promise<void> => {
    const [first] = shown
    if (looksLikeNumber(search)) {
      if (await openNamed(search)) setSearch('')
    } else if (first && wanted.trim() !== '') goToFind(first)
  }
  return (
    <>
      {adding ? <QuickEntry rows={rows} /> : null}
      <div className={classes.bar}>
        <TextInput
          className={classes.search ?? ''}
          aria-label="Search the finds, or scan or write a number"
          placeholder="Search, or scan a number"
          leftSection={<IconSearch size={16} aria-hidden="true" />}
          value={search}
          onChange={(event) => setSearch(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === 'Enter') void enter()
          }}
        />
        {adding ? null : (
          <Button leftSection={<IconPlus size={16} aria-hidden="true" />} onClick={() => entering.set(true)}>
            Enter a find
          </Button>
        )}
      </div>
      <LoneFindspot rows={rows} />
      <div className={classes.foot}>
        <p className={classes.count} role="status">
          {shown.length === rows.length
            ? countText(rows.length, 'find')
            : `${wholeNumber(shown.length)} of ${countText(rows.length, 'find')}`}
        </p>
        <ColumnsMenu ids={ids.length > 0 ? ids : shown.map(({ id }) => id)} />
      </div>
      {ids.length > 0 ? <BulkEdit ids={ids} /> : null}
      <FindsTable rows={shown} onOpen={goToFind} onEdit={editCell} />
    </>
  )
}

function editCell(row: FindRow, patch: RecordPatch): Promise<boolean> {
  return changed(async () => showFind(await findsApi.change(row.id, { record: patch })))
}

/** A findspot without a find, chosen on the map: told, since it stands in no row. */
function LoneFindspot({ rows }: { readonly rows: readonly FindRow[] }) {
  const chosen = useStore(selection)
  const findspots = useList('findspots')
  const wide = useWide()
  const id = chosen?.kind === 'findspot' ? chosen.id : null
  if (id === null || wide || rows.some(({ findspot }) => findspot === id)) return null
  const spot = [...findspots, ...knownList('findspots')].find((one) => one.id === id)
  return spot ? <FindspotCard spot={spot} /> : null
}
