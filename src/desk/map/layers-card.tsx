import { IconChevronDown, IconStack2 } from '@tabler/icons-react'
import { type ReactNode, useId } from 'react'
import { type ChancesView, chanceSteps, type SurveyView } from '#contract'
import {
  chanceRamp,
  FindspotSwatch,
  LineSwatch,
  MarkSwatch,
  passRamp,
  RampLegend,
  shareText,
  TargetSwatch,
  useLook,
  wholeNumber,
} from '#ui'
import { useList } from '../api/queries.ts'
import { shownLaneCount } from '../lanes/lanes-state.ts'
import { useShownBaseMap } from '../layers/base-map-state.ts'
import { isPlaced } from '../layers/layer-looks.ts'
import { ShownPictures } from '../layers/shown-pictures.tsx'
import { useLayers } from '../layers/use-layers.ts'
import { type LayerName, legendOpen, shownLayers, stage } from '../state/desk-state.ts'
import { createStore, useStore } from '../state/store.ts'
import { useWide } from '../state/wide.ts'
import { gapCount, useShownChances } from '../visits/visits-state.ts'
import classes from './layers-card.module.css'

/** On a narrow page the card starts folded, whatever it is elsewhere. */
const narrowOpen = createStore(false)

const css = ([r, g, b]: readonly number[]): string => `rgb(${r} ${g} ${b})`

/** The middle of the ramp, as the swatch of the cover. */
function CoverSwatch({ byChance }: { readonly byChance: boolean }) {
  const { look } = useLook()
  const ramp = byChance ? chanceRamp[look].slice(1) : passRamp[look]
  return (
    <svg width="44" height="22" viewBox="0 0 44 22" aria-hidden="true">
      {ramp.map((rgb, i) => (
        <rect key={css(rgb)} x={2 + i * 10} y="4" width="10" height="14" fill={css(rgb)} />
      ))}
    </svg>
  )
}

/** The steps of chances, with the shares of the search area from a half up. */
function ChanceLegend({ chances }: { readonly chances: ChancesView }) {
  const { look } = useLook()
  const { share50, share80, share95 } = chances.cover.all
  const steps = chanceSteps.map((edge, i) => ({
    colour: css(chanceRamp[look][i]!),
    text: `${Math.round(edge * 100)}%+`,
  }))
  return (
    <div className={classes.ramp}>
      <RampLegend title="Chance it was sensed" steps={steps} />
      <p className={classes.shares}>
        50%+ on {shareText(share50)}, 80%+ on {shareText(share80)}, 95%+ on {shareText(share95)}
      </p>
    </div>
  )
}

/** The steps of passes, in the colours of the look now shown. */
function PassLegend() {
  const { look } = useLook()
  const steps = passRamp[look].map((colour, i, { length }) => ({
    colour: css(colour),
    text: i === length - 1 ? `${i + 1}+` : String(i + 1),
  }))
  return (
    <div className={classes.ramp}>
      <RampLegend title="Passes over a spot" steps={steps} />
    </div>
  )
}

interface LayerRow {
  readonly name: LayerName
  readonly label: string
  readonly symbol: ReactNode
  readonly count: number | null
}

function rowsOf(
  survey: SurveyView,
  chances: ChancesView | null,
  land: { readonly constraints: number; readonly lanes: number },
): LayerRow[] {
  const { counts, cover, marks } = survey
  const rows: LayerRow[] = [
    { name: 'areas', label: 'Areas', symbol: <LineSwatch symbol="area" />, count: counts.areas },
    {
      name: 'constraints',
      label: 'To be left alone',
      symbol: <LineSwatch symbol="constraint" />,
      count: land.constraints,
    },
    { name: 'lanes', label: 'Lanes', symbol: <LineSwatch symbol="lane" />, count: land.lanes },
    { name: 'tracks', label: 'Tracks', symbol: <LineSwatch symbol="track" />, count: counts.tracks },
    { name: 'cover', label: 'Cover', symbol: <CoverSwatch byChance={chances !== null} />, count: null },
    { name: 'gaps', label: 'Gaps', symbol: <LineSwatch symbol="gap" />, count: gapCount(survey, chances) },
    { name: 'findspots', label: 'Findspots', symbol: <FindspotSwatch />, count: counts.findspots },
    {
      name: 'marks',
      label: 'Marks',
      symbol: <MarkSwatch state={marks.candidate > 0 ? 'candidate' : 'accepted'} />,
      count: marks.candidate + marks.accepted + marks.unsure,
    },
    { name: 'targets', label: 'Targets', symbol: <TargetSwatch />, count: marks.targets },
  ]
  return rows.filter((row) => (row.name === 'cover' ? cover !== null || chances !== null : row.count !== 0))
}

/** What the map shows, each with its symbol and a box to hide it. The legend and the switch are one. */
export function LayersCard({ survey }: { readonly survey: SurveyView | null }) {
  const wide = useWide()
  const wanted = useStore(legendOpen)
  const openNarrow = useStore(narrowOpen)
  const store = shownLayers(useStore(stage))
  const shown = useStore(store)
  const id = useId()
  const chances = useShownChances()
  const sets = useList('constraints')
  const constraints = sets.reduce((sum, set) => sum + set.constraints.length, 0)
  const lanes = useStore(shownLaneCount)
  const rows = survey ? rowsOf(survey, chances, { constraints, lanes }) : []
  const pictures = useLayers().filter(({ layer }) => isPlaced(layer))
  const base = useShownBaseMap()
  if (rows.length === 0 && pictures.length === 0 && !base) return null
  const open = wide ? wanted : openNarrow
  const toggle = (): void => (wide ? legendOpen : narrowOpen).set((now) => !now)
  return (
    <section className={classes.card} data-folded={open ? undefined : true} aria-label="Layers">
      <button
        type="button"
        className={classes.toggle}
        aria-expanded={open}
        aria-controls={id}
        onClick={toggle}
      >
        <IconStack2 size={18} aria-hidden="true" />
        Layers
        <IconChevronDown className={classes.chevron} size={16} aria-hidden="true" />
      </button>
      <div id={id} hidden={!open}>
        <ul className={classes.list}>
          {rows.map(({ name, label, symbol, count }) => (
            <li key={name}>
              <label className={classes.row}>
                <input
                  className={classes.check}
                  type="checkbox"
                  checked={shown[name]}
                  onChange={(event) => {
                    const { checked } = event.currentTarget
                    store.set((now) => ({ ...now, [name]: checked }))
                  }}
                />
                <span className={classes.symbol}>{symbol}</span>
                {label}
                <span className={classes.count}>{count === null ? '' : wholeNumber(count)}</span>
              </label>
              {name === 'cover' && shown.cover ? (
                chances ? (
                  <ChanceLegend chances={chances} />
                ) : (
                  <PassLegend />
                )
              ) : null}
            </li>
          ))}
        </ul>
        <ShownPictures pictures={pictures} />
      </div>
    </section>
  )
}
