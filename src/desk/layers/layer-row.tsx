import { ActionIcon, Button } from '@mantine/core'
import {
  IconArrowDown,
  IconArrowUp,
  IconChevronDown,
  IconEye,
  IconEyeOff,
  IconMountain,
  IconPhoto,
  IconZoomScan,
} from '@tabler/icons-react'
import { type DragEvent, useId, useState } from 'react'
import { shareText } from '#ui'
import { knownList } from '../api/queries.ts'
import { useStore } from '../state/store.ts'
import { goToLayer, openLayer } from './layer-acts.ts'
import { LayerDetails } from './layer-details.tsx'
import { type Blend, changeLook, isPlaced, type SeenLayer, showLayer } from './layer-looks.ts'
import { LayerState } from './layer-state.tsx'
import { lackOf, layerFacts } from './layer-words.ts'
import classes from './layers.module.css'
import { SelectRow } from './select-row.tsx'
import { SliderRow } from './slider-row.tsx'
import { placeByPoints } from './tie-state.ts'
import { wholeTile } from './tile-address.ts'
import { ViewForm } from './view-form.tsx'

const blendChoices: readonly { readonly value: Blend; readonly text: string }[] = [
  { value: 'normal', text: 'Over what is below' },
  { value: 'multiply', text: 'Multiply: darkens' },
  { value: 'screen', text: 'Screen: lightens' },
]

/** The whole layer small, or a sign of its kind until it can be seen. */
function Thumbnail({ seen: { layer } }: { readonly seen: SeenLayer }) {
  const [failed, setFailed] = useState(false)
  const Icon = layer.kind === 'terrain' ? IconMountain : IconPhoto
  const shows = layer.found && layer.ready && !failed && (layer.bounds !== null || layer.kind === 'image')
  if (!shows)
    return (
      <span className={classes.thumb}>
        <Icon size={22} stroke={1.5} aria-hidden="true" />
      </span>
    )
  const { address, width, height } = wholeTile(layer, { view: layer.views[0] ?? 'as-is' })
  const scale = 100 / Math.min(width, height)
  return (
    <span className={classes.thumb}>
      <img
        alt=""
        src={address}
        style={{ width: `${scale}%`, height: `${scale}%` }}
        onError={() => setFailed(true)}
      />
    </span>
  )
}

function Settings({ seen, gridless }: { readonly seen: SeenLayer; readonly gridless: boolean }) {
  const { layer, look } = seen
  const { id } = layer
  return (
    <>
      <LayerState layer={layer} gridless={gridless} />
      {isPlaced(layer) ? (
        <>
          <ViewForm seen={seen} />
          <SliderRow
            label="Opacity"
            value={Math.round(look.opacity * 100)}
            least={0}
            most={100}
            step={5}
            text={shareText(look.opacity)}
            onChange={(percent) => changeLook(id, { opacity: percent / 100 })}
          />
          <SelectRow<Blend>
            label="How it is laid"
            value={look.blend}
            choices={blendChoices}
            onChange={(blend) => changeLook(id, { blend })}
          />
          <div className={classes.buttons}>
            <Button
              variant="default"
              size="compact-sm"
              leftSection={<IconZoomScan size={16} aria-hidden="true" />}
              onClick={() => goToLayer(layer)}
            >
              Show the whole of it
            </Button>
            {layer.placedBy === 'tie-points' ? (
              <Button variant="default" size="compact-sm" onClick={() => placeByPoints(id)}>
                Change its tie points
              </Button>
            ) : null}
          </div>
        </>
      ) : null}
      <LayerDetails layer={layer} />
    </>
  )
}

interface LayerRowProps {
  readonly seen: SeenLayer
  readonly place: number
  readonly count: number
  readonly gridless: boolean
  /** Moves the layer to another place in the list. */
  readonly onMove: (id: number, place: number) => void
}

/** The switch of a layer, and the buttons that move it up and down. */
function LayerTools({ seen, place, count, onMove }: Omit<LayerRowProps, 'gridless'>) {
  const { layer, look } = seen
  return (
    <div className={classes.tools}>
      <ActionIcon
        aria-label={`Show ${layer.name} on the map`}
        aria-pressed={look.shown}
        title={look.shown ? 'Hide' : 'Show'}
        disabled={!isPlaced(layer)}
        onClick={() => showLayer(knownList('layers'), layer.id, !look.shown)}
      >
        {look.shown && isPlaced(layer) ? (
          <IconEye size={18} aria-hidden="true" />
        ) : (
          <IconEyeOff size={18} aria-hidden="true" />
        )}
      </ActionIcon>
      {count > 1 ? (
        <span className={classes.order}>
          <ActionIcon
            aria-label={`Move ${layer.name} up`}
            title="Up"
            size={24}
            disabled={place === 0}
            onClick={() => onMove(layer.id, place - 1)}
          >
            <IconArrowUp size={16} aria-hidden="true" />
          </ActionIcon>
          <ActionIcon
            aria-label={`Move ${layer.name} down`}
            title="Down"
            size={24}
            disabled={place === count - 1}
            onClick={() => onMove(layer.id, place + 1)}
          >
            <IconArrowDown size={16} aria-hidden="true" />
          </ActionIcon>
        </span>
      ) : null}
    </div>
  )
}

/** One layer of the list: what it is, the switch, its order; and, where it is chosen, all that can be set. */
export function LayerRow({ seen, place, count, gridless, onMove }: LayerRowProps) {
  const { layer } = seen
  const id = useId()
  const open = useStore(openLayer) === layer.id
  const [over, setOver] = useState(false)
  const drop = (event: DragEvent): void => {
    setOver(false)
    const moved = Number(event.dataTransfer.getData('application/x-lynchet-layer'))
    if (!moved || moved === layer.id) return
    event.preventDefault()
    onMove(moved, place)
  }
  const holdsLayer = (event: DragEvent): boolean =>
    event.dataTransfer.types.includes('application/x-lynchet-layer')
  return (
    <li
      className={classes.row}
      data-over={over || undefined}
      data-open={open || undefined}
      data-testid={`layer-${layer.id}`}
      draggable={!open}
      onDragStart={(event) => event.dataTransfer.setData('application/x-lynchet-layer', String(layer.id))}
      onDragOver={(event) => {
        if (!holdsLayer(event)) return
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <div className={classes.head}>
        <button
          type="button"
          className={classes.choose}
          aria-expanded={open}
          aria-controls={id}
          onClick={() => openLayer.set(open ? null : layer.id)}
        >
          <Thumbnail key={layer.stamp} seen={seen} />
          <span className={classes.words}>
            <span className={classes.name}>{layer.name}</span>
            <span className={classes.facts}>{layerFacts(layer)}</span>
            {layer.attribution ? <span className={classes.facts}>{layer.attribution}</span> : null}
            {lackOf(layer) === null && layer.ready ? null : (
              <span className={classes.lack}>{stateWords(seen)}</span>
            )}
          </span>
          <IconChevronDown className={classes.chevron} size={16} aria-hidden="true" />
        </button>
        <LayerTools seen={seen} place={place} count={count} onMove={onMove} />
      </div>
      <div id={id} className={classes.settings} hidden={!open}>
        {open ? <Settings seen={seen} gridless={gridless} /> : null}
      </div>
    </li>
  )
}

function stateWords({ layer }: SeenLayer): string {
  const lack = lackOf(layer)
  if (lack === 'file') return 'File not found'
  if (lack === 'system') return 'Which coordinate system is not known'
  if (lack === 'outside') return 'Lies outside the survey’s grid'
  if (lack === 'place') return 'Lies nowhere yet'
  return 'Being made ready'
}
