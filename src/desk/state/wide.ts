import { useSyncExternalStore } from 'react'

interface Breadth {
  readonly holds: () => boolean
  /** The same in a component, drawn anew when it changes. */
  readonly use: () => boolean
}

/** Whether the page is at least so wide. */
function atLeast(width: string): Breadth {
  const query = matchMedia(`(min-width: ${width})`)
  const holds = (): boolean => query.matches
  const watch = (changed: () => void): (() => void) => {
    query.addEventListener('change', changed)
    return () => query.removeEventListener('change', changed)
  }
  return { holds, use: () => useSyncExternalStore(watch, holds) }
}

/** True where the panel stands beside the map, false where it lies below it; the style sheets break at the same width. */
export const useWide = atLeast('50.01rem').use

/** Where cards have room on the map beside the panel; elsewhere they take the panel's place. */
const roomy = atLeast('75rem')
export const isRoomy = roomy.holds
export const useRoomy = roomy.use
