import { IconMountain, IconPhoto, IconWorld } from '@tabler/icons-react'
import { knownList } from '../api/queries.ts'
import card from '../map/layers-card.module.css'
import { useStore } from '../state/store.ts'
import { useShownBaseMap } from './base-map-state.ts'
import { type SeenLayer, showLayer } from './layer-looks.ts'
import { nameWithYear } from './layer-words.ts'
import classes from './layers.module.css'
import { sightOnMap } from './sight.ts'
import { viewWords } from './view-words.ts'

/** The pictures in the legend: each with its switch, and while it is shown the view and whose it is. */
export function ShownPictures({ pictures }: { readonly pictures: readonly SeenLayer[] }) {
  const base = useShownBaseMap()
  const sight = useStore(sightOnMap)
  if (pictures.length === 0 && !base) return null
  return (
    <>
      <h2 className={classes.legendTitle}>{pictures.length > 0 ? 'Pictures' : 'Base map'}</h2>
      {sight ? (
        <p className={classes.legendSight}>
          Above, for the open mark: {nameWithYear(sight.layer)}, {viewWords[sight.view.view].name}
        </p>
      ) : null}
      <ul className={card.list}>
        {pictures.map(({ layer, look }) => {
          const Icon = layer.kind === 'terrain' ? IconMountain : IconPhoto
          const about = [viewWords[look.view.view].name, layer.attribution].filter(Boolean).join(' · ')
          return (
            <li key={layer.id}>
              <label className={card.row}>
                <input
                  className={card.check}
                  type="checkbox"
                  checked={look.shown}
                  onChange={(event) => showLayer(knownList('layers'), layer.id, event.currentTarget.checked)}
                />
                <span className={card.symbol}>
                  <Icon size={20} stroke={1.5} aria-hidden="true" />
                </span>
                <span className={classes.legendName}>{nameWithYear(layer)}</span>
              </label>
              {look.shown ? <p className={classes.legendAbout}>{about}</p> : null}
            </li>
          )
        })}
        {base ? (
          <li>
            <p className={card.row} data-plain>
              <span />
              <span className={card.symbol}>
                <IconWorld size={20} stroke={1.5} aria-hidden="true" />
              </span>
              <span className={classes.legendName}>{base.name}</span>
            </p>
            <p className={classes.legendAbout}>{base.attribution}</p>
          </li>
        ) : null}
      </ul>
    </>
  )
}
