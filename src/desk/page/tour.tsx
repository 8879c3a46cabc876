import { Button } from '@mantine/core'
import { useState } from 'react'
import type { SurveyView } from '#contract'
import { type Stage, showStage, tourSeen } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import classes from './tour.module.css'

interface TourStep {
  readonly stage: Stage
  readonly title: string
  readonly text: string
}

const steps: readonly TourStep[] = [
  {
    stage: 'visits',
    title: 'The ground that was covered',
    text: 'This survey is invented, so that you can try things out. The coloured strips are ground that was swept; the hatched outlines are gaps. Next gap takes you from one to the next, the largest first.',
  },
  {
    stage: 'finds',
    title: 'What was found, and where',
    text: 'Each diamond is a findspot. Choose one in the list or on the map to see its place and what was found there.',
  },
  {
    stage: 'land',
    title: 'Your own land',
    text: 'Make a new survey under the title at the top. Then drop the track of a walk anywhere on this page, and draw the area you searched.',
  },
]

/** Three short steps over the demo survey, shown until they are closed once. */
export function Tour({ survey }: { readonly survey: SurveyView | null }) {
  const seen = useStore(tourSeen)
  const [at, setAt] = useState(0)
  const step = steps[at]
  if (seen || !survey?.demo || !step) return null
  const go = (next: number): void => {
    setAt(next)
    const { stage } = steps[next] ?? step
    showStage(stage)
  }
  const last = at === steps.length - 1
  return (
    <section className={classes.tour} aria-label="First look" data-testid="tour">
      <h2 className={classes.title}>{step.title}</h2>
      <p>{step.text}</p>
      <div className={classes.foot}>
        <span className={classes.step}>
          {at + 1} of {steps.length}
        </span>
        {last ? null : (
          <Button variant="subtle" size="compact-sm" onClick={() => tourSeen.set(true)}>
            Close
          </Button>
        )}
        {at > 0 ? (
          <Button variant="default" size="compact-sm" onClick={() => go(at - 1)}>
            Back
          </Button>
        ) : null}
        <Button size="compact-sm" onClick={() => (last ? tourSeen.set(true) : go(at + 1))}>
          {last ? 'Begin' : 'Next'}
        </Button>
      </div>
    </section>
  )
}
