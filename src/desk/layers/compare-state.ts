import { createStore } from '../state/store.ts'
import { isPlaced, type SeenLayer } from './layer-looks.ts'
import type { ShownPicture } from './picture-stack.ts'

/** Two layers with a divider between them, two that alternate, or two to four in maps of their own. By layer id. */
export type Compare =
  | { readonly kind: 'swipe'; readonly ids: readonly number[]; readonly divider: number }
  | {
      readonly kind: 'flicker'
      readonly ids: readonly number[]
      readonly showsSecond: boolean
      /** 0: by hand only */
      readonly changesPerSecond: number
    }
  | { readonly kind: 'beside'; readonly ids: readonly number[] }

export const compare = createStore<Compare | null>(null)

/** Most maps side by side. */
export const mostBeside = 4

/**
 * How often two pictures may be exchanged. A flash is a change and the change back, so the fastest is one and a half flashes a second:
 * half of the three that WCAG 2.2 (2.3.1) allows.
 */
export const changeRates = [0, 0.5, 1, 2, 3] as const

export function startCompare(kind: Compare['kind'], layers: readonly SeenLayer[]): void {
  const placed = layers.filter(({ layer }) => isPlaced(layer))
  // What is looked at now comes first.
  const first = [...placed].sort((a, b) => Number(b.look.shown) - Number(a.look.shown))
  const ids = first.map(({ layer }) => layer.id)
  if (ids.length < 2) return
  if (kind === 'swipe') compare.set({ kind, ids: ids.slice(0, 2), divider: 0.5 })
  else if (kind === 'flicker')
    compare.set({ kind, ids: ids.slice(0, 2), showsSecond: false, changesPerSecond: 0 })
  else compare.set({ kind, ids: ids.slice(0, mostBeside) })
}

export function endCompare(): void {
  compare.set(null)
}

/** Puts another layer in one of the places; two that would be the same are exchanged. */
export function withLayer(ids: readonly number[], place: number, id: number): number[] {
  const before = ids[place]
  return ids.map((one, i) => (i === place ? id : one === id && before !== undefined ? before : one))
}

export function chooseCompared(place: number, id: number): void {
  compare.set((now) => now && { ...now, ids: withLayer(now.ids, place, id) })
}

/** Shows the other of two that alternate. */
export function stepFlicker(): void {
  compare.set((now) => (now?.kind === 'flicker' ? { ...now, showsSecond: !now.showsSecond } : now))
}

export function moveDivider(divider: number): void {
  const share = Math.min(1, Math.max(0, divider))
  compare.set((now) => (now?.kind === 'swipe' ? { ...now, divider: share } : now))
}

/** The same comparison without the layers that are gone; null where fewer than two are left. */
export function stillCompared(now: Compare, layers: readonly SeenLayer[]): Compare | null {
  const placed = new Set(layers.filter(({ layer }) => isPlaced(layer)).map(({ layer }) => layer.id))
  const ids = now.ids.filter((id) => placed.has(id))
  return ids.length === now.ids.length ? now : ids.length < 2 ? null : { ...now, ids }
}

/** What is left of a picture's strength where it is only the ground of something else. */
export const paleShare = 0.4

/** The pictures drawn pale, so that what lies on them is read: the cover and its gaps. */
export function palePictures(pictures: readonly ShownPicture[]): ShownPicture[] {
  return pictures.map(({ look, ...shown }) => ({
    ...shown,
    look: { ...look, opacity: look.opacity * paleShare },
  }))
}

/** What the map shows, the uppermost first: the layers that are switched on, or while some are compared only those. */
export function picturesShown(layers: readonly SeenLayer[], now: Compare | null): ShownPicture[] {
  if (!now) return layers.filter(({ layer, look }) => isPlaced(layer) && look.shown)
  if (now.kind === 'beside') return []
  const seen = now.ids.map((id) => layers.find(({ layer }) => layer.id === id))
  const [first, second] = seen
  if (!first || !second) return []
  if (now.kind === 'swipe')
    return [
      { ...first, side: 'left' },
      { ...second, side: 'right' },
    ]
  // The one that is not seen is there all the same, so that a change needs no loading.
  const clear = ({ layer, look }: SeenLayer): ShownPicture => ({ layer, look: { ...look, opacity: 0 } })
  return now.showsSecond ? [clear(first), second] : [first, clear(second)]
}
