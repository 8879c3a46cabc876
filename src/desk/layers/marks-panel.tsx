import type { ReactNode } from 'react'
import type { SurveyView } from '#contract'
import { countText, EmptyState, Panel, Section } from '#ui'
import { knownList, useList } from '../api/queries.ts'
import { FilesButton } from '../files/files-button.tsx'
import { MarkReview } from '../marks/mark-review.tsx'
import { MarksSections } from '../marks/marks-sections.tsx'
import { selection } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { BaseMapSection } from './base-map-section.tsx'
import { CompareSection } from './compare-section.tsx'
import { moveLayer, type SeenLayer } from './layer-looks.ts'
import { LayerRow } from './layer-row.tsx'
import classes from './layers.module.css'
import { useLayers } from './use-layers.ts'

function LayerList({
  layers,
  gridless,
}: {
  readonly layers: readonly SeenLayer[]
  readonly gridless: boolean
}) {
  return (
    <ul className={classes.list} data-testid="layer-list">
      {layers.map((seen, place) => (
        <LayerRow
          key={seen.layer.id}
          seen={seen}
          place={place}
          count={layers.length}
          gridless={gridless}
          onMove={(id, to) => moveLayer(knownList('layers'), id, to)}
        />
      ))}
    </ul>
  )
}

interface MarksPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

/** Marks: the images and terrain models, each looked at in the way that shows most. */
export function MarksPanel({ survey, aside }: MarksPanelProps) {
  const layers = useLayers()
  const chosen = useStore(selection)
  const open = useList('marks').find(({ id }) => chosen?.kind === 'mark' && chosen.id === id)
  if (open) return <MarkReview mark={open} aside={aside} />
  return (
    <Panel title="Marks" aside={aside}>
      {layers.length > 0 ? (
        <Section>
          <FilesButton label="Add a picture or terrain model" main />
        </Section>
      ) : null}
      <Section title="Pictures" aside={layers.length > 0 ? countText(layers.length, 'layer') : undefined}>
        {layers.length > 0 ? (
          <LayerList layers={layers} gridless={survey.grid === null} />
        ) : (
          <EmptyState title="No picture yet" action={<FilesButton label="Choose files" />}>
            Drop an aerial image (TIFF, JPEG or PNG, with its world file if it has one) or a terrain model
            (GeoTIFF or ASCII grid) anywhere on this page.
          </EmptyState>
        )}
      </Section>
      <CompareSection layers={layers} />
      <MarksSections layers={layers} gridless={survey.grid === null} />
      <BaseMapSection />
    </Panel>
  )
}
