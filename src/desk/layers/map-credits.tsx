import { useStore } from '../state/store.ts'
import { useShownBaseMap } from './base-map-state.ts'
import { compare, picturesShown } from './compare-state.ts'
import classes from './map-credits.module.css'
import { useLayers } from './use-layers.ts'

/** Whose the pictures now on the map are, each once, in one line at its foot. */
export function MapCredits() {
  const layers = useLayers()
  const now = useStore(compare)
  const base = useShownBaseMap()
  const shown =
    now?.kind === 'beside'
      ? layers.filter(({ layer }) => now.ids.includes(layer.id))
      : picturesShown(layers, now)
  const credits = [...shown.map(({ layer }) => layer.attribution), base?.attribution]
  const told = [...new Set(credits.filter((credit) => credit))].join(' · ')
  if (told === '') return null
  return (
    <p className={classes.credits} title={told} data-credits data-testid="map-credits">
      {told}
    </p>
  )
}
