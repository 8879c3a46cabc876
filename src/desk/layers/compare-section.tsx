import { Button } from '@mantine/core'
import { IconArrowsExchange, IconColumns2, IconLayoutColumns, IconPlus, IconX } from '@tabler/icons-react'
import { Section } from '#ui'
import { useStore } from '../state/store.ts'
import {
  type Compare,
  changeRates,
  chooseCompared,
  compare,
  endCompare,
  mostBeside,
  startCompare,
} from './compare-state.ts'
import { isPlaced, type SeenLayer } from './layer-looks.ts'
import { nameWithYear } from './layer-words.ts'
import classes from './layers.module.css'
import { calmMotion } from './motion.ts'
import { SelectRow } from './select-row.tsx'

const ways = [
  { kind: 'swipe', name: 'Swipe', icon: IconLayoutColumns },
  { kind: 'flicker', name: 'Flicker', icon: IconArrowsExchange },
  { kind: 'beside', name: 'Side by side', icon: IconColumns2 },
] as const

const tells: Record<Compare['kind'], string> = {
  swipe: 'A divider stands between two pictures. Drag it, or move it with the arrow keys.',
  flicker: 'Two pictures alternate on one spot: what differs between them jumps. X shows the other.',
  beside: 'Two to four maps that move together, with a cross at the same place in each.',
}

const rateText = (rate: number): string =>
  rate === 0
    ? 'By hand'
    : rate < 1
      ? 'Every 2 seconds'
      : rate === 1
        ? 'Every second'
        : `${rate} times a second`

function RateRow({ now }: { readonly now: Extract<Compare, { kind: 'flicker' }> }) {
  if (calmMotion()) return <p className={classes.hint}>This system asks for less motion: by hand only.</p>
  return (
    <SelectRow
      label="Changes"
      value={String(now.changesPerSecond)}
      choices={changeRates.map((rate) => ({ value: String(rate), text: rateText(rate) }))}
      onChange={(rate) => compare.set({ ...now, changesPerSecond: Number(rate) })}
    />
  )
}

/** Which layers are compared, and how. */
function Compared({ now, placed }: { readonly now: Compare; readonly placed: readonly SeenLayer[] }) {
  const choices = placed.map(({ layer }) => ({ value: String(layer.id), text: nameWithYear(layer) }))
  const labels =
    now.kind === 'swipe'
      ? ['Left', 'Right']
      : now.kind === 'flicker'
        ? ['First', 'Second']
        : now.ids.map((_, i) => `Map ${i + 1}`)
  const unused = placed.find(({ layer }) => !now.ids.includes(layer.id))
  return (
    <>
      <p className={classes.hint}>{tells[now.kind]}</p>
      {now.ids.map((id, i) => (
        <SelectRow
          key={labels[i]}
          label={labels[i] ?? ''}
          value={String(id)}
          choices={choices}
          onChange={(chosen) => chooseCompared(i, Number(chosen))}
        />
      ))}
      {now.kind === 'flicker' ? <RateRow now={now} /> : null}
      <div className={classes.buttons}>
        {now.kind === 'beside' && unused && now.ids.length < mostBeside ? (
          <Button
            variant="default"
            size="compact-sm"
            leftSection={<IconPlus size={16} aria-hidden="true" />}
            onClick={() => compare.set({ ...now, ids: [...now.ids, unused.layer.id] })}
          >
            One map more
          </Button>
        ) : null}
        {now.kind === 'beside' && now.ids.length > 2 ? (
          <Button
            variant="default"
            size="compact-sm"
            onClick={() => compare.set({ ...now, ids: now.ids.slice(0, -1) })}
          >
            One map fewer
          </Button>
        ) : null}
        <Button
          variant="default"
          size="compact-sm"
          leftSection={<IconX size={16} aria-hidden="true" />}
          onClick={endCompare}
        >
          End comparing
        </Button>
      </div>
    </>
  )
}

/** Comparing layers: by a divider, by turns, or side by side. */
export function CompareSection({ layers }: { readonly layers: readonly SeenLayer[] }) {
  const now = useStore(compare)
  const placed = layers.filter(({ layer }) => isPlaced(layer))
  if (placed.length < 2) return null
  return (
    <Section title="Compare">
      <div className={classes.form}>
        <div className={classes.ways}>
          {ways.map(({ kind, name, icon: Icon }) => (
            <button
              key={kind}
              type="button"
              className={classes.way}
              aria-pressed={now?.kind === kind}
              onClick={() => (now?.kind === kind ? endCompare() : startCompare(kind, layers))}
            >
              <Icon size={20} stroke={1.75} aria-hidden="true" />
              {name}
            </button>
          ))}
        </div>
        {now ? <Compared now={now} placed={placed} /> : null}
      </div>
    </Section>
  )
}
