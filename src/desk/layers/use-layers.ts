import { useMemo } from 'react'
import type { Layer } from '#contract'
import { useList } from '../api/queries.ts'
import { useStore } from '../state/store.ts'
import { inOrder, keptLooks, type LayerLook, lookOf } from './layer-looks.ts'

export interface SeenLayer {
  readonly layer: Layer
  readonly look: LayerLook
}

/** The survey's layers with their looks, the uppermost first. */
export function useLayers(): readonly SeenLayer[] {
  const layers = useList('layers')
  const kept = useStore(keptLooks)
  return useMemo(
    () => inOrder(layers, kept).map((layer) => ({ layer, look: lookOf(layer, kept) })),
    [layers, kept],
  )
}

/** True for what the map can show. */
export const isPlaced = ({ bounds, found }: Layer): boolean => bounds !== null && found
