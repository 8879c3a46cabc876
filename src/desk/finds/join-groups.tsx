import { Button } from '@mantine/core'
import type { FindRow, JoinView } from '#contract'
import { joinGroups, type Pair } from '#core/joins'
import { countText, measuredText, Section } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { boundsOfPositions, goTo } from '../map/map-state.ts'
import { tell } from '../state/notices.ts'
import { undoLast } from '../survey/undo.ts'
import { changed } from './finds-data.ts'
import { findsView, goToFind } from './finds-state.ts'
import classes from './joins-review.module.css'

export type FindsById = ReadonlyMap<number, FindRow>

/** What a find is, in a line. */
export function whatText(row: FindRow): string {
  return [row.object || 'find', row.material].filter(Boolean).join(', ')
}

/** The accepted joins between finds that are listed, as pairs of numbers. */
export function acceptedPairs(joins: readonly JoinView[], byId: FindsById): readonly Pair[] {
  return joins.flatMap(({ state, first, second }): Pair[] => {
    const [a, b] = [byId.get(first), byId.get(second)]
    return state === 'accepted' && a && b ? [[a.number, b.number]] : []
  })
}

/** Brings the findspots of some finds into sight. */
export function showPlaces(rows: readonly FindRow[]): void {
  const places = rows.flatMap(({ easting, northing }): [number, number][] =>
    easting === null || northing === null ? [] : [[easting, northing]],
  )
  if (places.length > 0) goTo(boundsOfPositions(places))
}

/** Opens a find from among the joins. */
export function openJoined(row: FindRow): void {
  findsView.set('catalogue')
  goToFind(row)
}

const undo = { label: 'Undo', run: () => void undoLast() }

export async function joinFinds(ids: readonly number[]): Promise<boolean> {
  const done = await changed(() => findsApi.joinTogether(ids))
  if (done) tell('good', `${countText(ids.length, 'find')} joined as one object.`, undo)
  return done
}

export async function partFinds(ids: readonly number[]): Promise<boolean> {
  const done = await changed(() => findsApi.part(ids))
  if (done) tell('good', `${countText(ids.length, 'find')} parted.`, undo)
  return done
}

interface JoinGroupsProps {
  readonly joins: readonly JoinView[]
  readonly byId: FindsById
}

/** What accepted joins make one object, group by group, with the distances between the pieces. */
export function JoinGroups({ joins, byId }: JoinGroupsProps) {
  const groups = joinGroups(acceptedPairs(joins, byId))
  const byNumber = new Map([...byId.values()].map((row) => [row.number, row]))
  if (groups.length === 0) return null
  return (
    <Section title="Joined" aside={countText(groups.length, 'group')}>
      <ul className={classes.joins} aria-label="Groups of joined finds">
        {groups.map(({ members }) => {
          const rows = members.map((number) => byNumber.get(number)!)
          const ids = new Set(rows.map(({ id }) => id))
          const inside = joins.filter(({ state, first }) => state === 'accepted' && ids.has(first))
          return <Group key={members[0]} rows={rows} joins={inside} byId={byId} />
        })}
      </ul>
    </Section>
  )
}

interface GroupProps extends JoinGroupsProps {
  readonly rows: readonly FindRow[]
}

function Group({ rows, joins, byId }: GroupProps) {
  return (
    <li className={classes.join}>
      <div className={classes.pair}>
        {rows.map((row) => (
          <button key={row.id} type="button" className={classes.find} onClick={() => openJoined(row)}>
            <b>{row.number}</b> {whatText(row)}
          </button>
        ))}
      </div>
      <ul className={classes.links}>
        {joins.map(({ first, second, distanceM, reasons }) => {
          const names = [first, second].map((id) => byId.get(id)?.number).sort()
          return (
            <li key={`${first} ${second}`}>
              <span>
                {names.join(' and ')}
                {distanceM === null ? '' : `, ${measuredText(distanceM)} apart`}
                <span className={classes.soft}> {reasons.join('; ')}</span>
              </span>
              <Button
                size="compact-sm"
                variant="subtle"
                aria-label={`Part ${names.join(' and ')}`}
                onClick={() => void partFinds([first, second])}
              >
                Part
              </Button>
            </li>
          )
        })}
      </ul>
      <div className={classes.buttons}>
        <Button size="compact-sm" variant="subtle" onClick={() => showPlaces(rows)}>
          Show on the map
        </Button>
        {joins.length > 1 ? (
          <Button
            size="compact-sm"
            variant="default"
            onClick={() => void partFinds(rows.map(({ id }) => id))}
          >
            Part the whole group
          </Button>
        ) : null}
      </div>
    </li>
  )
}
