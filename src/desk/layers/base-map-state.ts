import type TileImage from 'ol/source/TileImage.js'
import { useEffect } from 'react'
import type { BaseMap } from '#contract'
import { useBaseMaps } from '../api/queries.ts'
import { tellFault } from '../state/notices.ts'
import { createStore } from '../state/store.ts'

/** The tiles of the base map that is shown, in the survey's grid; null for none. */
export const baseMapSource = createStore<TileImage | null>(null)

export function useShownBaseMap(): BaseMap | null {
  const { data } = useBaseMaps()
  return data?.maps[data.shown ?? -1] ?? null
}

/** Keeps the tiles of the shown base map for the grid of the survey. What they need is fetched only when there is one. */
export function useBaseMapSource(epsg: number): void {
  const map = useShownBaseMap()
  useEffect(() => {
    if (!map || epsg === 0) return
    let wanted = true
    import('./base-map-source.ts')
      .then(({ sourceOf }) => sourceOf(map, epsg))
      .then((source) => {
        if (wanted) baseMapSource.set(source)
      })
      .catch((error: unknown) => {
        if (wanted) tellFault(error)
      })
    return () => {
      wanted = false
      baseMapSource.set(null)
    }
  }, [map, epsg])
}
