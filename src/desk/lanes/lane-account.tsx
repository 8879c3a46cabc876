import { durationText, lengthText, Notice, Section } from '#ui'
import { useList } from '../api/queries.ts'
import { plan } from '../map/map-state.ts'
import { useStore } from '../state/store.ts'
import { fitText, lanesText, lightText } from './lane-words.ts'
import classes from './lanes.module.css'
import { openPlan, type PreviewState } from './lanes-state.ts'

/** Said while a kept plan is open: the figures are of other lanes than those on the map. */
function MapShowsAnother() {
  const open = useStore(openPlan)
  const kept = useList('plans').find(({ id }) => id === open)
  if (!kept) return null
  return (
    <Notice tone="plain" action={{ label: 'Show these', run: () => openPlan.set(null) }}>
      The map shows the kept plan {kept.name}, not these lanes.
    </Notice>
  )
}

/** What the lanes come to: length, turns, hours against the light, and all that is to be known before going. */
export function LaneAccount({ state }: { readonly state: PreviewState }) {
  const { preview, fault, working } = state
  if (fault)
    return (
      <Section>
        <Notice tone="fault">{fault}</Notice>
      </Section>
    )
  if (!preview) return working ? <p className={classes.hint}>Laying the lanes …</p> : null
  const { figures, light, clashes, leave } = preview
  const { lengthM, turns, betweenM, hours, restHours, walkers } = figures
  const fit = fitText(hours, light)
  return (
    <Section title="What it comes to" aside={working ? 'Laying the lanes …' : lanesText(figures)}>
      <div className={classes.form}>
        <MapShowsAnother />
        <dl className={classes.figures} data-testid="lane-figures">
          <dt>Length</dt>
          <dd>{lengthText(lengthM)}</dd>
          <dt>Turns</dt>
          <dd>{turns.toLocaleString('en-GB')}</dd>
          <dt>Way between lanes</dt>
          <dd>{lengthText(betweenM)}</dd>
          <dt>{walkers.length > 1 ? 'Time of each walker' : 'Time'}</dt>
          <dd>{durationText(hours * 3600)}</dd>
          <dt>Of which rest</dt>
          <dd>{restHours > 0 ? durationText(restHours * 3600) : 'none'}</dd>
        </dl>
        <p className={classes.plain}>{lightText(light)}</p>
        <Notice tone={fit.fits ? 'good' : 'warn'}>{fit.text}</Notice>
        {leave.map((text) => (
          <Notice key={text} tone="warn">
            {text}
          </Notice>
        ))}
        {clashes.map(({ text, easting, northing }) => (
          <Notice
            key={text}
            tone="warn"
            action={{ label: 'Show', run: () => plan.get()?.lookAt(easting, northing) }}
          >
            {text}
          </Notice>
        ))}
        {figures.notes.map((text) => (
          <Notice key={text} tone="plain">
            {text}
          </Notice>
        ))}
      </div>
    </Section>
  )
}
