import { useEffect, useMemo } from 'react'
import { useSurvey } from '../api/queries.ts'
import type { Plan } from '../map/plan.ts'
import { shownLayers, stage } from '../state/desk-state.ts'
import { useStore } from '../state/store.ts'
import { baseMapSource, useBaseMapSource } from './base-map-state.ts'
import {
  compare,
  endCompare,
  palePictures,
  paleShare,
  picturesShown,
  stillCompared,
} from './compare-state.ts'
import { openLayer } from './layer-acts.ts'
import { sightOnMap, withSight } from './sight.ts'
import { placedLayer } from './tie-state.ts'
import { useLayers } from './use-layers.ts'

function leavePictures(): void {
  endCompare()
  openLayer.set(null)
  placedLayer.set(null)
}

/** Keeps the map's pictures as the list has them. Called after the grid has been taken up, which `file` and `epsg` tell of. */
export function usePicturesOnPlan(made: Plan | null, file: string | undefined, epsg: number): void {
  useBaseMapSource(epsg)
  const layers = useLayers()
  const now = useStore(compare)
  const hasCover = useSurvey().survey?.cover != null
  const pale = useStore(shownLayers(useStore(stage))).cover && hasCover && now === null
  const sight = useStore(sightOnMap)
  const pictures = useMemo(() => {
    const shown = withSight(picturesShown(layers, now), now ? null : sight)
    return pale ? palePictures(shown) : shown
  }, [layers, now, pale, sight])
  // biome-ignore lint/correctness/useExhaustiveDependencies: another survey or grid needs the pictures laid anew.
  useEffect(() => made?.showPictures(pictures), [made, pictures, file, epsg])
  const base = useStore(baseMapSource)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another survey or grid needs the base map laid anew.
  useEffect(() => made?.showBase(base, pale ? paleShare : 1), [made, base, pale, file, epsg])
  const divider = now?.kind === 'swipe' ? now.divider : 0.5
  useEffect(() => made?.setDivider(divider), [made, divider])
  useEffect(() => {
    if (now && layers.length > 0) compare.set(stillCompared(now, layers))
  }, [now, layers])
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is compared, open or being placed belongs to its survey.
  useEffect(() => leavePictures, [file])
}
