import { useSyncExternalStore } from 'react'

/** A value that parts of the page watch. */
export interface Store<Value> {
  readonly get: () => Value
  readonly set: (next: Value | ((now: Value) => Value)) => void
  /** Calls `changed` after every change; returns a function that stops it. */
  readonly watch: (changed: () => void) => () => void
}

export function createStore<Value>(initial: Value): Store<Value> {
  let value = initial
  const watchers = new Set<() => void>()
  return {
    get: () => value,
    set: (next) => {
      const changed = typeof next === 'function' ? (next as (now: Value) => Value)(value) : next
      if (Object.is(changed, value)) return
      value = changed
      for (const watcher of [...watchers]) watcher()
    },
    watch: (changed) => {
      watchers.add(changed)
      return () => watchers.delete(changed)
    },
  }
}

/** The store's value in a component, drawn anew when it changes. */
export function useStore<Value>(store: Store<Value>): Value {
  return useSyncExternalStore(store.watch, store.get)
}
