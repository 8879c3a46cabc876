import { Button } from '@mantine/core'
import {
  IconArrowLeft,
  IconArrowRight,
  IconCheck,
  IconMapPin,
  IconQuestionMark,
  IconTrash,
  IconX,
} from '@tabler/icons-react'
import { type ReactNode, useEffect, useState } from 'react'
import type { Mark, MarkState } from '#contract'
import { KeyCap, Panel, Section } from '#ui'
import { useList } from '../api/queries.ts'
import type { SeenLayer } from '../layers/layer-looks.ts'
import { type Sight, sightOnMap } from '../layers/sight.ts'
import { useLayers } from '../layers/use-layers.ts'
import { selection, singleKeys } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { MarkChip } from './mark-chip.tsx'
import { MarkEdit } from './mark-edit.tsx'
import { MarkFacts } from './mark-facts.tsx'
import { isShown, kindListed } from './mark-order.ts'
import { MarkStrip } from './mark-strip.tsx'
import { markName, stateNames } from './mark-words.ts'
import classes from './marks.module.css'
import { sightOf } from './marks-list.tsx'
import { decide, kindFilter, makeTarget, markFilter, removeMark, stepMark } from './marks-state.ts'
import { MayBe } from './may-be.tsx'

const answers = [
  { state: 'accepted', label: 'Accept', key: 'Y', icon: IconCheck },
  { state: 'unsure', label: 'Unsure', key: 'U', icon: IconQuestionMark },
  { state: 'rejected', label: 'Reject', key: 'R', icon: IconX },
] as const satisfies readonly {
  readonly state: MarkState
  readonly label: string
  readonly key: string
  readonly icon: typeof IconX
}[]

function Decision({ mark }: { readonly mark: Mark }) {
  const keys = useStore(singleKeys)
  return (
    <fieldset className={classes.answers}>
      <legend className="only-read">Is it one?</legend>
      {answers.map(({ state, label, key, icon: Icon }) => (
        <button
          key={state}
          type="button"
          className={classes.answer}
          aria-pressed={mark.state === state}
          aria-keyshortcuts={keys ? key : undefined}
          onClick={() => void decide(state)}
        >
          <Icon size={20} stroke={2} aria-hidden="true" />
          {label}
          {keys ? (
            <span className={classes.cap} aria-hidden="true">
              <KeyCap>{key}</KeyCap>
            </span>
          ) : null}
        </button>
      ))}
    </fieldset>
  )
}

function Steps({ mark }: { readonly mark: Mark }) {
  const marks = useList('marks')
  const filter = useStore(markFilter)
  const kind = kindListed(marks, useStore(kindFilter))
  const left = marks.filter((each) => isShown(each, { state: filter, kind })).length
  return (
    <div className={classes.steps}>
      <Button
        variant="default"
        size="compact-md"
        leftSection={<IconArrowLeft size={16} aria-hidden="true" />}
        aria-keyshortcuts="B"
        onClick={() => stepMark(-1)}
      >
        Before
      </Button>
      <p className={classes.left} role="status">
        {left} {filter === 'all' ? 'in all' : stateNames[filter].toLowerCase()}
      </p>
      <Button
        variant="default"
        size="compact-md"
        rightSection={<IconArrowRight size={16} aria-hidden="true" />}
        aria-keyshortcuts="N"
        onClick={() => stepMark(1)}
        data-testid="next-mark"
      >
        Next
      </Button>
      <span className="only-read">{markName(mark)} is open</span>
    </div>
  )
}

function Picture({ mark, layers }: { readonly mark: Mark; readonly layers: readonly SeenLayer[] }) {
  const [chosen, setChosen] = useState<Sight | null>(null)
  const [outlined, setOutlined] = useState(true)
  const sight = chosen ?? sightOf(mark, layers)
  const key = JSON.stringify([sight?.layer.id, sight?.layer.stamp, sight?.view])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same sight is made anew at every drawing.
  useEffect(() => {
    sightOnMap.set(sight)
    return () => sightOnMap.set(null)
  }, [key])
  if (!sight) return <p className={classes.hint}>No picture of the survey shows this place.</p>
  return (
    <>
      <figure className={classes.large} data-testid="mark-picture">
        <MarkChip mark={mark} {...sight} outlined={outlined} alt={`The ground about ${markName(mark)}`} />
      </figure>
      <label className={classes.tick}>
        <input
          type="checkbox"
          checked={outlined}
          onChange={(event) => setOutlined(event.currentTarget.checked)}
        />
        {mark.diameterM === null ? 'Draw its outline over the picture' : 'Draw a circle round it'}
      </label>
      <MarkStrip mark={mark} layers={layers} shown={sight} onChoose={setChosen} />
    </>
  )
}

/** One mark, large: the same spot on every picture, what was measured, what it may be, and the decision. */
export function MarkReview({ mark, aside }: { readonly mark: Mark; readonly aside: ReactNode }) {
  const layers = useLayers()
  return (
    <Panel title={markName(mark)} aside={aside}>
      <Section>
        <div className={classes.form}>
          <Button
            variant="subtle"
            size="compact-sm"
            className={classes.back ?? ''}
            leftSection={<IconArrowLeft size={16} aria-hidden="true" />}
            onClick={() => selection.set(null)}
          >
            All marks and pictures
          </Button>
          <Steps mark={mark} />
          <Decision mark={mark} />
          <Picture key={mark.id} mark={mark} layers={layers} />
        </div>
      </Section>
      <MarkFacts mark={mark} layers={layers} />
      <MayBe mark={mark} />
      <MarkEdit key={mark.id} mark={mark} />
      <Section>
        <div className={classes.form}>
          <Button
            variant="default"
            leftSection={<IconMapPin size={18} aria-hidden="true" />}
            disabled={mark.targetId !== null}
            aria-keyshortcuts="T"
            onClick={() => void makeTarget(mark)}
          >
            {mark.targetId === null ? 'Make target' : 'A target stands at its middle'}
          </Button>
          <Button
            variant="default"
            leftSection={<IconTrash size={18} aria-hidden="true" />}
            onClick={() => void removeMark(mark)}
          >
            Take it out of the survey
          </Button>
          <p className={classes.hint}>
            A rejected mark stays known, so that a later search does not bring it back. One that is taken out
            may be found again.
          </p>
        </div>
      </Section>
    </Panel>
  )
}
