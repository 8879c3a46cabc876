import { createStore, type Store } from './store.ts'

function read(key: string): string | null {
  try {
    return localStorage.getItem(key)
  } catch {
    return null
  }
}

/** A yes or no kept in this browser under `lynchet.NAME`. Where nothing may be kept it holds for this page. */
export function rememberedFlag(name: string, initial: boolean): Store<boolean> {
  const key = `lynchet.${name}`
  const kept = read(key)
  const store = createStore(kept === null ? initial : kept === 'yes')
  store.watch(() => {
    try {
      localStorage.setItem(key, store.get() ? 'yes' : 'no')
    } catch {
      // A private window may refuse; the flag then lasts as long as the page.
    }
  })
  return store
}
