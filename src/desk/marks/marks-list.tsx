import { Button } from '@mantine/core'
import { IconArrowRight } from '@tabler/icons-react'
import { useMemo, useState } from 'react'
import type { Mark } from '#contract'
import { countText, MarkSwatch, Section } from '#ui'
import { useList } from '../api/queries.ts'
import type { SeenLayer } from '../layers/layer-looks.ts'
import { SelectRow } from '../layers/select-row.tsx'
import { useStore } from '../state/store.ts'
import { reaches } from './chip-address.ts'
import { MarkChip } from './mark-chip.tsx'
import { bestFirst, isShown, kindListed, kindsThere, type MarkFilter } from './mark-order.ts'
import { groupNames, markName, shortChance, stateNames } from './mark-words.ts'
import classes from './marks.module.css'
import { goToMark, kindFilter, markFilter, removeUndecided, stepMark } from './marks-state.ts'

const shownAtFirst = 20
const filters: readonly MarkFilter[] = ['candidate', 'accepted', 'unsure', 'rejected', 'all']

/** The layer that a mark was seen on, or the uppermost that shows its place; with the view it was seen in. */
export function sightOf(mark: Mark, layers: readonly SeenLayer[]) {
  const there = layers.filter(({ layer }) => reaches(layer, mark))
  const own = there.find(({ layer }) => layer.id === mark.layerId)
  const seen = own ?? there[0]
  if (!seen) return null
  const view = own && mark.view && own.layer.views.includes(mark.view.view) ? mark.view : seen.look.view
  return { layer: seen.layer, view }
}

function MarkRow({ mark, layers }: { readonly mark: Mark; readonly layers: readonly SeenLayer[] }) {
  const sight = sightOf(mark, layers)
  return (
    <li>
      <button
        type="button"
        className={classes.row}
        onClick={() => goToMark(mark)}
        data-testid={`mark-${mark.id}`}
      >
        <span className={classes.thumb}>
          {sight ? <MarkChip mark={mark} {...sight} outlined={false} alt="" /> : null}
        </span>
        <span className={classes.words}>
          <span className={classes.name}>{markName(mark)}</span>
          <span className={classes.facts}>
            {[shortChance(mark.falseAlarmsPerKm2), ...mark.mayBe.map((each) => `${each}?`), mark.layerName]
              .filter(Boolean)
              .join(' · ')}
          </span>
          {mark.note ? <span className={classes.facts}>{mark.note}</span> : null}
        </span>
        <span className={classes.state}>
          <MarkSwatch state={mark.state} />
          <span className="only-read">{stateNames[mark.state]}</span>
        </span>
      </button>
    </li>
  )
}

/** All marks of one decision, the likeliest first, each with its picture. */
export function MarksList({ layers }: { readonly layers: readonly SeenLayer[] }) {
  const marks = useList('marks')
  const filter = useStore(markFilter)
  const asked = useStore(kindFilter)
  const [all, setAll] = useState(false)
  const there = kindsThere(marks)
  const kind = kindListed(marks, asked)
  const listed = useMemo(
    () => bestFirst(marks).filter((mark) => isShown(mark, { state: filter, kind })),
    [marks, filter, kind],
  )
  if (marks.length === 0) return null
  const shown = all ? listed : listed.slice(0, shownAtFirst)
  const count = (state: MarkFilter): number => marks.filter((mark) => isShown(mark, { state, kind })).length
  return (
    <Section title="Marks so far" aside={countText(listed.length, 'mark')}>
      <div className={classes.form}>
        {there.length > 1 ? (
          <SelectRow
            label="Kind"
            value={kind}
            choices={[
              { value: 'all' as const, text: 'All kinds' },
              ...there.map((value) => ({ value, text: groupNames[value] })),
            ]}
            onChange={kindFilter.set}
          />
        ) : null}
        <SelectRow
          label="Show"
          value={filter}
          choices={filters.map((value) => ({
            value,
            text: `${value === 'all' ? 'All' : stateNames[value]} (${count(value)})`,
          }))}
          onChange={markFilter.set}
        />
        {listed.length > 0 ? (
          <Button
            variant={filter === 'candidate' ? 'filled' : 'default'}
            rightSection={<IconArrowRight size={16} aria-hidden="true" />}
            onClick={() => stepMark(1)}
          >
            Go through them, one by one
          </Button>
        ) : (
          <p className={classes.hint}>{filter === 'candidate' ? 'All are decided.' : 'None.'}</p>
        )}
        {listed.length > 0 ? (
          <ul className={classes.list} data-testid="marks-list">
            {shown.map((mark) => (
              <MarkRow key={mark.id} mark={mark} layers={layers} />
            ))}
          </ul>
        ) : null}
        {listed.length > shown.length ? (
          <Button variant="default" onClick={() => setAll(true)}>
            Show all {listed.length}
          </Button>
        ) : null}
        {filter === 'candidate' && listed.length > 1 ? (
          <Button variant="default" onClick={() => void removeUndecided()}>
            Take out all {kind === 'all' ? '' : `${groupNames[kind].toLowerCase()} `}that are not decided
          </Button>
        ) : null}
      </div>
    </Section>
  )
}
