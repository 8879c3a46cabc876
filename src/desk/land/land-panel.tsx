import { ActionIcon, Button } from '@mantine/core'
import { IconPencil, IconPolygon, IconTrash } from '@tabler/icons-react'
import type { ReactNode } from 'react'
import type { AreaView, SurveyView } from '#contract'
import { areaText, countText, EmptyState, LineSwatch, Panel, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { FilesButton } from '../files/files-button.tsx'
import { goToPolygons } from '../map/choosing.ts'
import { boundsOfPolygons, goTo } from '../map/map-state.ts'
import { workOutCoverIfStale } from '../state/cover-run.ts'
import { selection } from '../state/desk-state.ts'
import { tell, tellFault } from '../state/notices.ts'
import { useStore } from '../state/store.ts'
import { undoLast } from '../survey/undo.ts'
import { type AreaDraft, areaDraft, drawArea, editArea } from './area-draft.ts'
import { ConstraintsSection } from './constraints-section.tsx'
import { DraftForm, kindNames } from './draft-form.tsx'
import classes from './land-panel.module.css'
import { PermissionsSection } from './permissions-section.tsx'

const kindSymbols = { search: 'area', field: 'field', 'no-go': 'noGo', hazard: 'hazard' } as const

async function remove(area: AreaView): Promise<void> {
  try {
    await deskApi.removeArea(area.id)
    selection.set(null)
    tell('good', `Took ${area.name} out of the survey.`, { label: 'Undo', run: () => void undoLast() })
    await refreshSurvey()
    void workOutCoverIfStale()
  } catch (error) {
    tellFault(error)
  }
}

function AreaRow({ area, chosen }: { readonly area: AreaView; readonly chosen: boolean }) {
  return (
    <li className={classes.row} data-chosen={chosen || undefined}>
      <button
        type="button"
        className={classes.choose}
        aria-pressed={chosen}
        onClick={() => goToPolygons('area', area)}
      >
        <LineSwatch symbol={kindSymbols[area.kind]} />
        <span className={classes.name}>
          {area.name}
          {area.kind === 'search' ? null : <span className={classes.facts}>{kindNames[area.kind]}</span>}
        </span>
        <span className={classes.size}>{areaText(area.areaM2)}</span>
      </button>
      <ActionIcon
        aria-label={`Change ${area.name}`}
        title="Change name or outline"
        onClick={() => {
          editArea(area)
          goTo(boundsOfPolygons(area.polygons))
        }}
      >
        <IconPencil size={18} aria-hidden="true" />
      </ActionIcon>
      <ActionIcon aria-label={`Delete ${area.name}`} title="Delete" onClick={() => void remove(area)}>
        <IconTrash size={18} aria-hidden="true" />
      </ActionIcon>
    </li>
  )
}

interface LandPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

function titleOf({ id, permission, name }: AreaDraft): string {
  if (permission !== null) return `Boundary of ${name}`
  return id === null ? 'New search area' : 'Change search area'
}

/** Land: the search areas of the survey. */
export function LandPanel({ survey, aside }: LandPanelProps) {
  const areas = useList('areas')
  const draft = useStore(areaDraft)
  const chosen = useStore(selection)
  if (draft)
    return (
      <Panel title={titleOf(draft)} aside={aside}>
        <DraftForm draft={draft} />
      </Panel>
    )
  const searched = areas.filter(({ kind }) => kind === 'search')
  const total = searched.reduce((sum, { areaM2 }) => sum + areaM2, 0)
  const draw = (
    <Button
      className={classes.main ?? ''}
      fullWidth
      leftSection={<IconPolygon size={18} aria-hidden="true" />}
      disabled={survey.grid === null}
      onClick={() => drawArea(`Area ${areas.length + 1}`)}
    >
      Draw a search area
    </Button>
  )
  return (
    <Panel title="Land" aside={aside}>
      <Section>
        {draw}
        {survey.grid === null ? (
          <p className={classes.hint}>
            An area can be drawn once the survey knows where it lies: go to a place, or add a track or an
            outline.
          </p>
        ) : null}
      </Section>
      <Section
        title="Areas"
        aside={
          searched.length > 0 ? `${countText(searched.length, 'search area')}, ${areaText(total)}` : undefined
        }
      >
        {areas.length > 0 ? (
          <ul className={classes.list}>
            {areas.map((area) => (
              <AreaRow key={area.id} area={area} chosen={chosen?.kind === 'area' && chosen.id === area.id} />
            ))}
          </ul>
        ) : (
          <EmptyState title="No search area yet" action={<FilesButton label="Choose files" />}>
            Draw one, or add its outline as GPX, KML, GeoJSON or shapefile.
          </EmptyState>
        )}
      </Section>
      <PermissionsSection />
      <ConstraintsSection gridless={survey.grid === null} />
    </Panel>
  )
}
