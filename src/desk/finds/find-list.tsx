import { Button, TextInput } from '@mantine/core'
import { IconPlus, IconSearch } from '@tabler/icons-react'
import { useMemo } from 'react'
import type { FindRow, RecordPatch } from '#contract'
import { countText, wholeNumber } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { knownList, useList } from '../api/queries.ts'
import { FindspotCard } from '../map/findspot-popup.tsx'
import { selection } from '../state/desk-state.ts'
import { tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { BulkEdit } from './bulk-edit.tsx'
import { CatalogueTools, ShapeChoice } from './catalogue-tools.tsx'
import { FilterBar } from './filter-bar.tsx'
import { FindCards } from './find-cards.tsx'
import { searchFinds } from './find-search.ts'
import { changed, showFind } from './finds-data.ts'
import classes from './finds-panel.module.css'
import { asCards, entering, goToFind, picked, searchText } from './finds-state.ts'
import { FindsTable } from './finds-table.tsx'
import { QuickEntry } from './quick-entry.tsx'

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

interface FindListProps {
  readonly rows: readonly FindRow[]
  /** Those that search and filters leave, in order. */
  readonly shown: readonly FindRow[]
  /** True while the form to enter a find is open. */
  readonly adding: boolean
}

/** The catalogue: searched, filtered and sorted, as a table or as cards. */
export function FindList({ rows, shown, adding }: FindListProps) {
  const search = useStore(searchText)
  const chosen = useStore(picked)
  const cards = useStore(asCards)
  const all = shown.length === rows.length
  const ids = useMemo(() => rows.map(({ id }) => id).filter((id) => chosen.has(id)), [rows, chosen])
  const enter = async (): Promise<void> => {
    // The list may be a letter behind what is written.
    const [first] = searchFinds(shown, search)
    if (looksLikeNumber(search)) {
      if (await openNamed(search)) searchText.set('')
    } else if (first && search.trim() !== '') goToFind(first)
  }
  return (
    <>
      {adding ? <QuickEntry /> : null}
      <div className={classes.bar}>
        <TextInput
          className={classes.search ?? ''}
          aria-label="Search the finds, or scan or write a number"
          placeholder="Search, or scan a number"
          leftSection={<IconSearch size={16} aria-hidden="true" />}
          value={search}
          onChange={(event) => searchText.set(event.currentTarget.value)}
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
          {all
            ? countText(rows.length, 'find')
            : `${wholeNumber(shown.length)} of ${countText(rows.length, 'find')}, here and on the map`}
        </p>
        <ShapeChoice />
      </div>
      <CatalogueTools ids={ids.length > 0 ? ids : shown.map(({ id }) => id)} />
      <FilterBar rows={rows} />
      {ids.length > 0 ? <BulkEdit ids={ids} /> : null}
      {cards ? (
        <FindCards rows={shown} onOpen={goToFind} />
      ) : (
        <FindsTable rows={shown} onOpen={goToFind} onEdit={editCell} />
      )}
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
