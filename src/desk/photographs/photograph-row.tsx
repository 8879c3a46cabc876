import { Button } from '@mantine/core'
import { type FormEvent, type SyntheticEvent, useId, useState } from 'react'
import type { PhotographGoal, PhotographMoment } from '#contract'
import { durationText, lengthText } from '#ui'
import { findsApi } from '../api/finds-api.ts'
import { useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { clockBy, typedMoment, zoneSeconds, zoneText } from './camera-clock.ts'
import classes from './matching.module.css'
import { changeMatching, chooseGoal, type GivenPhotograph } from './matching-state.ts'

const keyOf = ({ find, findspot }: PhotographGoal): string =>
  find === null ? `spot ${findspot}` : `find ${find}`
const another = 'another'
const outside = 'out'

/** When it was taken, as the camera says it and as it was read. */
function takenText({ moment, match }: GivenPhotograph): string {
  if (moment === null) return ''
  if (moment.takenLocal === null && moment.time === null) return 'tells no time'
  const local = moment.takenLocal?.replace('T', ' ') ?? 'satellite time'
  const read = match?.at ? `, ${match.at.slice(11, 19)} UTC` : ''
  const zone = match?.zoneS == null || match.zoneS === 0 ? '' : ` (${zoneText(match.zoneS)})`
  return `${local}${zone}${read}`
}

/** How far off the likeliest findspot is: 4.2 m off, taken 35 s after. */
function offText({ match }: GivenPhotograph): string {
  if (!match) return ''
  const { offM, offS } = match
  const parts = [
    offM === null ? null : `${lengthText(offM)} off`,
    offS === null ? null : `taken ${durationText(Math.abs(offS))} ${offS < 0 ? 'before' : 'after'}`,
  ]
  return parts.filter((part) => part !== null).join(', ')
}

/** A picture that browsers do not show leaves its place empty. */
function hide({ currentTarget }: SyntheticEvent<HTMLImageElement>): void {
  currentTarget.style.visibility = 'hidden'
}

/** One photograph: what it says of itself, where it goes, and why; its moment may set the clock of all. */
export function PhotographRow({ photograph }: { readonly photograph: GivenPhotograph }) {
  const { key, file, address, moment, match, outcome, fault } = photograph
  const off = offText(photograph)
  return (
    <li className={classes.row} data-testid="matched-photograph" data-state={outcome ? 'done' : match?.state}>
      <img className={classes.picture} src={address} alt="" loading="lazy" decoding="async" onError={hide} />
      <div className={classes.facts}>
        <span className={classes.name}>{file.name}</span>
        <span className={classes.soft}>{takenText(photograph)}</span>
        {fault ? <span className={classes.fault}>{fault}</span> : null}
      </div>
      <div className={classes.goal}>
        {outcome ? (
          <span className={classes.name}>{outcome}</span>
        ) : moment === null ? null : (
          <>
            <GoalField photograph={photograph} />
            <span className={classes.soft}>
              {match?.reason}{' '}
              {off === '' ? '' : `${match?.state === 'matched' ? 'It is' : 'The likeliest is'} ${off}.`}
            </span>
            <ClockForm key={key} photograph={photograph} moment={moment} />
          </>
        )}
      </div>
    </li>
  )
}

/** The find it goes to: one of those that fit, another by its number, or none. */
function GoalField({ photograph }: { readonly photograph: GivenPhotograph }) {
  const { key, file, match, goal } = photograph
  const id = useId()
  const [asking, setAsking] = useState(false)
  const fitting = match?.goals ?? []
  const own = goal !== null && !fitting.some((one) => keyOf(one) === keyOf(goal)) ? [goal] : []
  const goals = [...own, ...fitting]
  const choose = (value: string): void => {
    setAsking(value === another)
    if (value !== another) chooseGoal(key, goals.find((one) => keyOf(one) === value) ?? null)
  }
  const empty = match?.state === 'choose' && !photograph.chosen ? 'choose one' : 'left out'
  return (
    <>
      <label className="only-read" htmlFor={id}>
        Find of {file.name}
      </label>
      <select
        id={id}
        className={classes.input}
        value={asking ? another : goal === null ? outside : keyOf(goal)}
        onChange={(event) => choose(event.currentTarget.value)}
      >
        <option value={outside}>{empty}</option>
        {goals.map((one) => (
          <option key={keyOf(one)} value={keyOf(one)}>
            {one.label}
          </option>
        ))}
        <option value={another}>another find …</option>
      </select>
      {asking ? <AnotherFind photograph={photograph} onFound={() => setAsking(false)} /> : null}
    </>
  )
}

interface AnotherFindProps {
  readonly photograph: GivenPhotograph
  readonly onFound: () => void
}

function AnotherFind({ photograph: { key, file }, onFound }: AnotherFindProps) {
  const [text, setText] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const look = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    try {
      const { id, record, place } = await findsApi.named(text)
      const label = [record.number, record.objectType?.text].filter(Boolean).join(', ')
      chooseGoal(key, { find: id, findspot: place?.findspot ?? 0, label })
      onFound()
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <form className={classes.line} onSubmit={(event) => void look(event)}>
      <input
        className={classes.input}
        aria-label={`Number of the find that ${file.name} shows`}
        placeholder="its number"
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <Button type="submit" variant="default">
        Take it
      </Button>
      {fault ? <span className={classes.fault}>{fault}</span> : null}
    </form>
  )
}

interface ClockFormProps {
  readonly photograph: GivenPhotograph
  readonly moment: PhotographMoment
}

/** Sets the clock of all photographs by this one, whose true moment is known: that of its find, or one that is typed. */
function ClockForm({ photograph: { goal }, moment }: ClockFormProps) {
  const id = useId()
  const [text, setText] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const findspots = useList('findspots')
  if (moment.takenLocal === null) return null
  const local = Date.parse(`${moment.takenLocal}Z`) / 1000
  const spot = findspots.find((one) => one.id === goal?.findspot)
  const found = spot?.time ? Date.parse(spot.time) / 1000 : null
  const set = (trueS: number): void => {
    const zone = moment.zone === null ? null : zoneSeconds(moment.zone)
    const { zoneS, clockS } = clockBy(local, trueS, zone)
    void changeMatching(zone === null ? { zoneS, clockS } : { clockS })
  }
  const typed = (event: FormEvent): void => {
    event.preventDefault()
    const trueS = typedMoment(text, local)
    setFault(trueS === null ? 'Write it as 09:14:30, or with its day as 2026-09-12 09:14:30.' : null)
    if (trueS !== null) set(trueS)
  }
  return (
    <details>
      <summary className={classes.summary}>Set the clock by this one</summary>
      <form className={classes.line} onSubmit={typed}>
        <label className={classes.soft} htmlFor={id}>
          Truly taken at, UTC
        </label>
        <input
          id={id}
          className={classes.input}
          placeholder="09:14:30"
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
        />
        <Button type="submit" variant="default">
          Set the clock
        </Button>
        {found === null ? null : (
          <Button variant="default" onClick={() => set(found)}>
            Taken as {goal!.label.split(',')[0]} was found
          </Button>
        )}
        {fault ? <span className={classes.fault}>{fault}</span> : null}
      </form>
    </details>
  )
}
