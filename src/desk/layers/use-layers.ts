import { useMemo } from 'react'
import { useList } from '../api/queries.ts'
import { useStore } from '../state/store.ts'
import { keptLooks, type SeenLayer, seenLayers } from './layer-looks.ts'

/** The survey's layers with their looks, the uppermost first. */
export function useLayers(): readonly SeenLayer[] {
  const layers = useList('layers')
  const kept = useStore(keptLooks)
  return useMemo(() => seenLayers(layers, kept), [layers, kept])
}
