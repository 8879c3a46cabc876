import { Button } from '@mantine/core'
import { NumberRow } from '#ui'
import { changeLook, type SeenLayer, usualView } from './layer-looks.ts'
import classes from './layers.module.css'
import { SelectRow } from './select-row.tsx'
import { SliderRow } from './slider-row.tsx'
import { limitsOf, numberOf, numberWords, type ViewName, type ViewNumber, viewWords } from './view-words.ts'

/** From where the light falls, as an arrow on a compass. */
function LightMark({ azimuth }: { readonly azimuth: number }) {
  return (
    <svg width="24" height="24" viewBox="-12 -12 24 24" aria-hidden="true">
      <circle r="10.5" fill="none" stroke="currentColor" strokeWidth="1" />
      <g transform={`rotate(${azimuth})`}>
        <path d="M0 -3V6M-3 2L0 6L3 2" fill="none" stroke="currentColor" strokeWidth="1.75" />
        <circle cy="-7" r="2.5" fill="currentColor" />
      </g>
    </svg>
  )
}

const slid: readonly ViewNumber[] = ['azimuth', 'altitude', 'exaggeration', 'cutPercent']

const within = (least: number, most: number, unit: string) => (value: number) =>
  value >= least && value <= most ? null : `Give a value from ${least} to ${most}${unit ? ` ${unit}` : ''}.`

function refusalOf(name: ViewNumber, least: number, most: number, unit: string) {
  const inside = within(least, most, unit)
  return (value: number): string | null => {
    if (name === 'directions' && value % 2 !== 0) return 'Give an even number.'
    if (name === 'number' && !Number.isInteger(value)) return 'Give a whole number.'
    return inside(value)
  }
}

function ViewNumberRow({ seen, name }: { readonly seen: SeenLayer; readonly name: ViewNumber }) {
  const { layer, look } = seen
  const { label, unit, step } = numberWords[name]
  const [least, most] = limitsOf(layer, name)
  const value = numberOf(layer, look.view, name)
  const change = (next: number | null): void => {
    const { [name]: _, ...rest } = look.view
    changeLook(layer.id, { view: next === null ? rest : { ...rest, [name]: next } })
  }
  if (slid.includes(name) && value !== null) {
    const mark = name === 'azimuth' ? <LightMark azimuth={value} /> : undefined
    const text = `${value}${unit === '%' ? '\u202f%' : unit}`
    return <SliderRow {...{ label, value, least, most, step, text, mark }} onChange={change} />
  }
  return (
    <NumberRow
      label={name === 'number' ? (look.view.view === 'band' ? 'Band' : 'Component') : label}
      unit={unit}
      value={value}
      mayBeEmpty={name === 'radiusM' && layer.kind === 'image'}
      placeholder="auto"
      refuse={refusalOf(name, least, most, unit)}
      onChange={change}
    />
  )
}

/** How a layer is looked at: the view, in a sentence what it shows, and the numbers that it goes by. */
export function ViewForm({ seen }: { readonly seen: SeenLayer }) {
  const { layer, look } = seen
  const { view } = look.view
  const { tells, numbers, far } = viewWords[view]
  const choices = layer.views.map((value) => ({ value, text: viewWords[value].name }))
  return (
    <div className={classes.form}>
      <SelectRow<ViewName>
        label="View"
        value={view}
        choices={choices}
        onChange={(next) => changeLook(layer.id, { view: { ...look.view, view: next } })}
      />
      <p className={classes.hint}>
        {tells}
        {far ? ' It is worked out for the whole terrain once, and then kept.' : ''}
      </p>
      {numbers.map((name) => (
        <ViewNumberRow key={name} seen={seen} name={name} />
      ))}
      {numbers.length > 0 || view !== layer.views[0] ? (
        <Button variant="default" size="compact-sm" onClick={() => usualView(layer.id)}>
          Back to the usual view
        </Button>
      ) : null}
    </div>
  )
}
