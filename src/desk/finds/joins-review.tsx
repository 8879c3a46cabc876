import { Button } from '@mantine/core'
import { useMemo, useState } from 'react'
import type { FindRow, JoinView } from '#contract'
import { type FindRecord, numberedFind } from '#core/finds'
import { joinGroups, joinScatter, objectCounts } from '#core/joins'
import {
  countText,
  EmptyState,
  FigureTile,
  FigureTiles,
  measuredText,
  NumberRow,
  Section,
  wholeNumber,
} from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { tell } from '../state/notices.ts'
import { changed, useJoins } from './finds-data.ts'
import {
  acceptedPairs,
  type FindsById,
  JoinGroups,
  openJoined,
  showPlaces,
  whatText,
} from './join-groups.tsx'
import classes from './joins-review.module.css'

const stateNames = { proposed: 'Put forward', rejected: 'Not a join' } as const
const usualSpreadM = 20

/** Pairs of fragments that may be of one object: looked for, looked at on the map, accepted or not. */
export function JoinsReview({ rows }: { readonly rows: readonly FindRow[] }) {
  const joins = useJoins()
  const [spreadM, setSpreadM] = useState(usualSpreadM)
  const byId = useMemo(() => new Map(rows.map((row) => [row.id, row])), [rows])
  const look = async (): Promise<void> => {
    const how = { spreadM, farthestM: 4 * spreadM }
    await changed(async () => {
      const { added, fragments } = await findsApi.proposeJoins(how)
      tell(
        'plain',
        added === 0
          ? `Nothing new among ${countText(fragments, 'fragment')} with a findspot.`
          : `${countText(added, 'pair')} put forward among ${countText(fragments, 'fragment')}.`,
      )
    })
  }
  const inOrder = (['proposed', 'rejected'] as const).map((state) => ({
    state,
    of: joins.filter((join) => join.state === state && byId.has(join.first) && byId.has(join.second)),
  }))
  return (
    <div className={classes.scroll}>
      <Section>
        <NumberRow
          label="Pieces of one object lie apart"
          hint="As far as the plough commonly takes them"
          unit="m"
          value={spreadM}
          refuse={(value) => (value > 0 && value <= 1000 ? null : 'Give a distance up to 1,000 m.')}
          onChange={(value) => setSpreadM(value ?? usualSpreadM)}
        />
        <Button onClick={() => void look()}>Look for joins</Button>
      </Section>
      {joins.length === 0 ? (
        <EmptyState title="No join yet">
          Pairs are put forward by material, thickness, breaks, curve, date and distance. Whether they are of
          one object, laying them together decides. A find marked complete is left out. What you know to be of
          one object, pick in the catalogue or on the map, and join it there.
        </EmptyState>
      ) : (
        <>
          <JoinFigures joins={joins} byId={byId} />
          <JoinGroups joins={joins} byId={byId} />
        </>
      )}
      {inOrder.map(({ state, of }) =>
        of.length === 0 ? null : (
          <Section key={state} title={stateNames[state]} aside={String(of.length)}>
            <ul className={classes.joins}>
              {of.map((join) => (
                <JoinItem
                  key={`${join.first} ${join.second}`}
                  join={join}
                  first={byId.get(join.first)!}
                  second={byId.get(join.second)!}
                />
              ))}
            </ul>
          </Section>
        ),
      )}
    </div>
  )
}

/** What of a row counts objects; the rest of its record plays no part in that. */
function countedRecord({ number, object, material, count, completeness }: FindRow): FindRecord {
  const [first = ''] = material.split('; ')
  return {
    ...numberedFind(number),
    objectType: object === '' ? null : { text: object, term: null },
    materials: first === '' ? [] : [{ text: first, term: null }],
    count,
    completeness,
  }
}

function JoinFigures({ joins, byId }: { readonly joins: readonly JoinView[]; readonly byId: FindsById }) {
  const accepted = acceptedPairs(joins, byId)
  if (accepted.length === 0) return null
  const groups = joinGroups(accepted)
  const places = [...byId.values()].flatMap(({ number, easting: x, northing: y }) =>
    x === null || y === null ? [] : [{ number, x, y }],
  )
  const { meanM, longestM, standardDistanceM, standardDistanceOfObjectsM } = joinScatter(places, groups)
  const objects = objectCounts([...byId.values()].map(countedRecord), groups)
  const metres = (value: number | null): string => (value === null ? '–' : measuredText(value))
  return (
    <Section title="What the joins come to">
      <FigureTiles>
        <FigureTile label="Groups" value={String(groups.length)} />
        <FigureTile
          label="Objects, at least"
          value={wholeNumber(objects.least)}
          note={`at most ${wholeNumber(objects.most)}, of ${countText(objects.pieces, 'piece')}`}
        />
        <FigureTile
          label="Joined pieces apart, mean"
          value={metres(meanM)}
          note={`longest ${metres(longestM)}`}
        />
        <FigureTile
          label="Spread of the scatter"
          value={metres(standardDistanceOfObjectsM)}
          note={`${metres(standardDistanceM)} with the pieces apart`}
        />
      </FigureTiles>
    </Section>
  )
}

interface JoinItemProps {
  readonly join: JoinView
  readonly first: FindRow
  readonly second: FindRow
}

function JoinItem({ join, first, second }: JoinItemProps) {
  const { state, score, reasons, distanceM } = join
  const decide = (next: JoinView['state']): void => {
    void changed(() => findsApi.changeJoin({ first: join.first, second: join.second, state: next }))
  }
  return (
    <li className={classes.join}>
      <div className={classes.pair}>
        {[first, second].map((row) => (
          <button key={row.id} type="button" className={classes.find} onClick={() => openJoined(row)}>
            <b>{row.number}</b> {whatText(row)}
          </button>
        ))}
      </div>
      <p className={classes.soft}>
        {[score === null ? null : `score ${score.toFixed(2)}`, ...reasons].filter(Boolean).join('; ')}
      </p>
      <div className={classes.buttons}>
        <Button size="compact-sm" onClick={() => decide('accepted')}>
          Accept
        </Button>
        {state === 'rejected' ? null : (
          <Button size="compact-sm" variant="default" onClick={() => decide('rejected')}>
            Not a join
          </Button>
        )}
        {distanceM === null ? null : (
          <Button size="compact-sm" variant="subtle" onClick={() => showPlaces([first, second])}>
            Show on the map
          </Button>
        )}
      </div>
    </li>
  )
}
