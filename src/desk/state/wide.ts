import { useSyncExternalStore } from 'react'

const query = matchMedia('(min-width: 50.01rem)')

function watch(changed: () => void): () => void {
  query.addEventListener('change', changed)
  return () => query.removeEventListener('change', changed)
}

/** True where the panel stands beside the map, false where it lies below it; the style sheets break at the same width. */
export function useWide(): boolean {
  return useSyncExternalStore(watch, () => query.matches)
}
