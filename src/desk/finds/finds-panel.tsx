import { TextInput } from '@mantine/core'
import { IconSearch } from '@tabler/icons-react'
import { type ReactNode, useDeferredValue, useMemo, useState } from 'react'
import type { FindspotView, SurveyView } from '#contract'
import { type Column, countText, DataGrid, EmptyState, Panel } from '#ui'
import { useList } from '../api/queries.ts'
import { FilesButton } from '../files/files-button.tsx'
import { goToFindspot } from '../map/choosing.ts'
import { FindspotCard } from '../map/findspot-popup.tsx'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { matchesSearch, objectsText } from './find-text.ts'
import classes from './finds-panel.module.css'

const columns: readonly Column<FindspotView>[] = [
  { title: 'Findspot', width: '45%', cell: (spot) => spot.name },
  { title: 'Finds', cell: objectsText },
]

interface FindsPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

/** Finds: the findspots, in a list and on the map, each leading to the other. */
export function FindsPanel({ survey, aside }: FindsPanelProps) {
  const findspots = useList('findspots')
  const chosen = useStore(selection)
  const wide = useWide()
  const spot = chosen?.kind === 'findspot' ? findspots.find(({ id }) => id === chosen.id) : undefined
  const [search, setSearch] = useState('')
  const wanted = useDeferredValue(search)
  const rows = useMemo(() => {
    const word = wanted.trim()
    return word === '' ? findspots : findspots.filter((spot) => matchesSearch(spot, word))
  }, [findspots, wanted])
  if (survey.counts.findspots === 0)
    return (
      <Panel title="Finds" aside={aside}>
        <EmptyState title="No findspot yet" action={<FilesButton label="Choose files" />}>
          Add findspots as GPX, KML, GeoJSON, CSV or shapefile, or drop the file anywhere on this page. A
          table needs columns for the place: latitude and longitude, easting and northing, or a grid
          reference.
        </EmptyState>
      </Panel>
    )
  const count =
    rows.length === findspots.length
      ? `${countText(findspots.length, 'findspot')}, ${countText(survey.counts.finds, 'find')}`
      : `${rows.length} of ${countText(findspots.length, 'findspot')}`
  return (
    <Panel title="Finds" aside={aside}>
      <div className={classes.fill}>
        {spot && !wide ? <FindspotCard spot={spot} /> : null}
        <FilesButton label="Add findspots" main />
        <TextInput
          className={classes.search ?? ''}
          aria-label="Search the findspots"
          placeholder="Search"
          leftSection={<IconSearch size={16} aria-hidden="true" />}
          value={search}
          onChange={(event) => setSearch(event.currentTarget.value)}
        />
        <p className={classes.count} role="status">
          {count}
        </p>
        <DataGrid
          label="Findspots"
          rows={rows}
          columns={columns}
          rowKey={(spot) => spot.id}
          chosen={chosen?.kind === 'findspot' ? chosen.id : null}
          onChoose={goToFindspot}
          style={{ flex: '1 1 0', minHeight: '10rem' }}
          testId="findspot-list"
        />
      </div>
    </Panel>
  )
}
