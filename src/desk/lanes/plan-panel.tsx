import { type ReactNode, useEffect } from 'react'
import type { SurveyView } from '#contract'
import { EmptyState, Panel, Section } from '#ui'
import { useList } from '../api/queries.ts'
import { TargetList } from '../marks/target-list.tsx'
import { selection, showStage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { AddTarget } from './add-target.tsx'
import { FindIt } from './find-it.tsx'
import { KeepPlan, KeptPlans } from './kept-plans.tsx'
import { LaneAccount } from './lane-account.tsx'
import { LaneFormSection } from './lane-form.tsx'
import { changeForm, laneForm, previewLanes, previewState } from './lanes-state.ts'

/** How long the form must rest before lanes are laid, milliseconds: a held arrow key then asks once. */
const restMs = 150

/** Lays the lanes anew whenever the form or the survey has changed. */
function usePreview(revision: number): void {
  const { sweep: _sweep, ...asked } = useStore(laneForm)
  const key = JSON.stringify(asked)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the text of the form stands for it, and a revision may have moved the area.
  useEffect(() => {
    const timer = setTimeout(() => void previewLanes(laneForm.get()), restMs)
    return () => clearTimeout(timer)
  }, [key, revision])
}

interface PlanPanelProps {
  readonly survey: SurveyView
  readonly aside: ReactNode
}

/** Plan: lanes over a search area, whether they will do, and what goes out with the walker. */
export function PlanPanel({ survey, aside }: PlanPanelProps) {
  const areas = useList('areas').filter(({ kind }) => kind === 'search')
  const form = useStore(laneForm)
  const state = useStore(previewState)
  const chosen = useStore(selection)
  const area = areas.find(({ id }) => id === form.areaId)
  const [first] = areas
  const gone = area === undefined
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a new choice, or an area that is gone, chooses for the form.
  useEffect(() => {
    const wanted = chosen?.kind === 'area' ? areas.find(({ id }) => id === chosen.id) : undefined
    if (wanted && wanted.id !== form.areaId) changeForm({ areaId: wanted.id })
    else if (!area) changeForm({ areaId: first?.id ?? null })
  }, [chosen, gone, first?.id])
  usePreview(survey.revision)
  if (!first)
    return (
      <Panel title="Plan" aside={aside}>
        <Section>
          <EmptyState
            title="No search area yet"
            action={
              <button type="button" onClick={() => showStage('land')}>
                Go to Land
              </button>
            }
          >
            Lanes are laid over a search area: draw one in Land, or bring one in.
          </EmptyState>
        </Section>
        {survey.grid ? <AddTarget /> : null}
        <TargetList />
      </Panel>
    )
  return (
    <Panel title="Plan" aside={aside}>
      <LaneFormSection form={form} areas={areas} />
      <LaneAccount state={state} />
      <Section>
        <KeepPlan areaName={area?.name ?? first.name} />
      </Section>
      <KeptPlans />
      <FindIt form={form} />
      <AddTarget />
      <TargetList />
    </Panel>
  )
}
