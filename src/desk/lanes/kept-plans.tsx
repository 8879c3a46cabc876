import { ActionIcon, Button, Checkbox, TextInput } from '@mantine/core'
import { IconDownload, IconTrash } from '@tabler/icons-react'
import { type FormEvent, useState } from 'react'
import { type Plan, usualNameLength } from '#contract'
import { bearingInWords } from '#core/lanes'
import { countText, durationText, lengthText, Notice, NumberRow, Section } from '#ui'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey, useList } from '../api/queries.ts'
import { sentenceOf } from '../api/request.ts'
import { tell, tellFault } from '../state/notices.ts'
import { rememberedFlag } from '../state/remembered.ts'
import { useStore } from '../state/store.ts'
import { saveHandheld, saveWalkSheet } from '../survey/save-file.ts'
import { undoLast } from '../survey/undo.ts'
import classes from './lanes.module.css'
import { laneForm, openPlan, previewState, wishesOf } from './lanes-state.ts'
import { PackOptions } from './pack-options.tsx'

/** Shown once, when the first plan is kept: then somebody is about to go. */
const cautionsSeen = rememberedFlag('walk-cautions-seen', false)

/** Keeps the lanes being planned under a name. */
export function KeepPlan({ areaName }: { readonly areaName: string }) {
  const form = useStore(laneForm)
  const { preview, working } = useStore(previewState)
  const [name, setName] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const usual = `${areaName}, ${form.spacingM} m`
  const keep = async (event: FormEvent): Promise<void> => {
    event.preventDefault()
    const wishes = wishesOf(form)
    if (!wishes) return
    try {
      const kept = await deskApi.keepPlan({ name: name.trim() === '' ? usual : name.trim(), wishes })
      await refreshSurvey()
      setName('')
      setFault(null)
      openPlan.set(kept.id)
      tell('good', `Kept the plan ${kept.name}.`, { label: 'Undo', run: () => void undoLast() })
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <form className={classes.form} onSubmit={(event) => void keep(event)}>
      <TextInput
        label="Name of the plan"
        placeholder={usual}
        value={name}
        maxLength={200}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      <Button type="submit" fullWidth disabled={preview === null || working}>
        Keep the plan
      </Button>
    </form>
  )
}

async function remove(plan: Plan): Promise<void> {
  try {
    await deskApi.removePlan(plan.id)
    openPlan.set(null)
    tell('good', `Took the plan ${plan.name} out.`, { label: 'Undo', run: () => void undoLast() })
    await refreshSurvey()
  } catch (error) {
    tellFault(error)
  }
}

function ToHandheld({ plan }: { readonly plan: Plan }) {
  const [length, setLength] = useState(usualNameLength)
  const [ascii, setAscii] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  const save = async (make: () => Promise<string>): Promise<void> => {
    try {
      tell('good', `Wrote ${await make()}.`)
      setFault(null)
    } catch (error) {
      setFault(sentenceOf(error))
    }
  }
  return (
    <div className={classes.form}>
      <p className={classes.hint}>
        One GPX file: targets as waypoints, each lane as a route, and all of a walker’s lanes as a track.
      </p>
      <NumberRow
        label="Name length"
        hint="The most characters it can hold"
        value={length}
        refuse={(value) =>
          Number.isInteger(value) && value >= 1 && value <= 255 ? null : 'Give a whole number from 1 to 255.'
        }
        onChange={(value) => value !== null && setLength(value)}
      />
      <Checkbox
        label="Names without accents"
        checked={ascii}
        onChange={(event) => setAscii(event.currentTarget.checked)}
      />
      {fault ? <Notice tone="fault">{fault}</Notice> : null}
      <Button
        variant="default"
        leftSection={<IconDownload size={18} aria-hidden="true" />}
        onClick={() => void save(() => saveHandheld(plan.id, length, ascii))}
      >
        Save for a handheld
      </Button>
      <PackOptions planId={plan.id} save={save} />
      <Button variant="default" onClick={() => void save(() => saveWalkSheet(plan.id))}>
        Save a sheet to print
      </Button>
    </div>
  )
}

function planFacts({ figures, areaName }: Plan): string {
  if (!figures) return areaName
  return `${areaName} · ${countText(figures.lanes, 'lane')} · ${lengthText(figures.lengthM)} · ${durationText(figures.hours * 3600)}`
}

function PlanRow({ plan, open }: { readonly plan: Plan; readonly open: boolean }) {
  const { wishes, figures } = plan
  const from = wishes?.bearingFrom
  const origin = from && figures && figures.bearing !== null ? bearingInWords(figures.bearing, from) : null
  return (
    <li>
      <div className={classes.row} data-chosen={open || undefined}>
        <button
          type="button"
          className={classes.choose}
          aria-pressed={open}
          onClick={() => openPlan.set(open ? null : plan.id)}
        >
          <span className={classes.name}>{plan.name}</span>
          <span className={classes.facts}>{planFacts(plan)}</span>
        </button>
        <ActionIcon
          aria-label={`Delete the plan ${plan.name}`}
          title="Delete"
          onClick={() => void remove(plan)}
        >
          <IconTrash size={18} aria-hidden="true" />
        </ActionIcon>
      </div>
      {open ? (
        <div className={classes.form}>
          {origin ? <p className={classes.hint}>Lanes {origin}.</p> : null}
          {plan.clashes.map((text) => (
            <Notice key={text} tone="warn">
              {text}
            </Notice>
          ))}
          <ToHandheld plan={plan} />
        </div>
      ) : null}
    </li>
  )
}

/** The plans that are kept; one that is open is shown on the map and can go to a handheld. */
export function KeptPlans() {
  const plans = useList('plans')
  const open = useStore(openPlan)
  const seen = useStore(cautionsSeen)
  if (plans.length === 0) return null
  return (
    <Section title="Kept plans" aside={countText(plans.length, 'plan')}>
      <div className={classes.form}>
        {seen ? null : (
          <Notice tone="warn" onDismiss={() => cautionsSeen.set(true)}>
            Before you walk: stop and leave in place whatever lies below the ploughsoil or looks like a hoard
            or a burial, and call for help. Human remains: cover, call the police. Ammunition: do not touch,
            go back the way you came, call the emergency number. Mind buried services, livestock, slurry,
            traffic and weather; tell someone where you are.
          </Notice>
        )}
        <ul className={classes.list} data-testid="plan-list">
          {plans.map((plan) => (
            <PlanRow key={plan.id} plan={plan} open={plan.id === open} />
          ))}
        </ul>
      </div>
    </Section>
  )
}
