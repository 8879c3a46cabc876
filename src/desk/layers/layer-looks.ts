import type { Layer, LayerView } from '#contract'
import { createStore } from '../state/store.ts'
import { numberNames, viewFor, viewWords } from './view-words.ts'

const blends = ['normal', 'multiply', 'screen'] as const
export type Blend = (typeof blends)[number]

/** How a layer lies on the map; kept in this browser, since it changes nothing of the survey. */
export interface LayerLook {
  readonly shown: boolean
  /** 0 to 1 */
  readonly opacity: number
  readonly blend: Blend
  readonly view: LayerView
}

/** What is kept of one survey: layers by id, the uppermost first, and what was changed of each. */
export interface KeptLooks {
  readonly order: readonly number[]
  readonly looks: Readonly<Record<string, Partial<LayerLook>>>
}

const nothingKept: KeptLooks = { order: [], looks: {} }
export const keptLooks = createStore<KeptLooks>(nothingKept)

let keptFor: string | null = null
const keyFor = (file: string): string => `lynchet.layers.${file}`

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

function viewFrom(value: unknown): LayerView | null {
  if (!isRecord(value) || typeof value.view !== 'string' || !Object.hasOwn(viewWords, value.view)) return null
  const numbers = numberNames.filter((name) => Number.isFinite(value[name]))
  return Object.assign({ view: value.view }, ...numbers.map((name) => ({ [name]: value[name] }))) as LayerView
}

function lookFrom(value: unknown): Partial<LayerLook> {
  if (!isRecord(value)) return {}
  const { shown, opacity, blend, view } = value
  const seen = viewFrom(view)
  return {
    ...(typeof shown === 'boolean' ? { shown } : {}),
    ...(typeof opacity === 'number' && opacity >= 0 && opacity <= 1 ? { opacity } : {}),
    ...(blends.includes(blend as Blend) ? { blend: blend as Blend } : {}),
    ...(seen ? { view: seen } : {}),
  }
}

/** What was kept, read again; what is not understood is as if it had not been kept. */
export function looksFrom(text: string | null): KeptLooks {
  let kept: unknown
  try {
    kept = JSON.parse(text ?? 'null')
  } catch {
    return nothingKept
  }
  if (!isRecord(kept)) return nothingKept
  const order = Array.isArray(kept.order) ? kept.order.filter((id) => Number.isInteger(id)) : []
  const looks = isRecord(kept.looks) ? kept.looks : {}
  return { order, looks: Object.fromEntries(Object.entries(looks).map(([id, look]) => [id, lookFrom(look)])) }
}

/** Takes up what this browser kept of a survey. */
export function takeUpLooks(file: string): void {
  keptFor = null
  let text: string | null = null
  try {
    text = localStorage.getItem(keyFor(file))
  } catch {
    // A private window may refuse; looks then last as long as the page.
  }
  keptLooks.set(looksFrom(text))
  keptFor = file
}

let writing: ReturnType<typeof setTimeout> | undefined
keptLooks.watch(() => {
  clearTimeout(writing)
  const file = keptFor
  if (file === null) return
  writing = setTimeout(() => {
    try {
      localStorage.setItem(keyFor(file), JSON.stringify(keptLooks.get()))
    } catch {
      // As above.
    }
  }, 300)
})

/** The layers as they lie, the uppermost first; one that was never moved lies above those that were, the newest first. */
export function inOrder(layers: readonly Layer[], { order }: KeptLooks): Layer[] {
  const place = new Map(order.map((id, i) => [id, i]))
  const moved = layers.filter(({ id }) => place.has(id)).sort((a, b) => place.get(a.id)! - place.get(b.id)!)
  const fresh = layers.filter(({ id }) => !place.has(id)).sort((a, b) => b.id - a.id)
  return [...fresh, ...moved]
}

/** The ids with one of them moved to another place; a place beyond either end is that end. */
export function movedTo(ids: readonly number[], id: number, place: number): number[] {
  const rest = ids.filter((one) => one !== id)
  const at = Math.max(0, Math.min(rest.length, place))
  return [...rest.slice(0, at), id, ...rest.slice(at)]
}

export interface SeenLayer {
  readonly layer: Layer
  readonly look: LayerLook
}

/** True for what the map can show. */
export const isPlaced = ({ bounds, found }: Layer): boolean => bounds !== null && found

function holdsMiddleOf(one: Layer, other: Layer): boolean {
  if (!one.bounds || !other.bounds) return false
  const [west, south, east, north] = one.bounds
  const [x, y] = [(other.bounds[0] + other.bounds[2]) / 2, (other.bounds[1] + other.bounds[3]) / 2]
  return x >= west && x <= east && y >= south && y <= north
}

/**
 * The layers with their looks, the uppermost first. Until switches have been touched, one is shown unless it lies below another: its
 * tiles would be fetched and not seen.
 */
export function seenLayers(layers: readonly Layer[], kept: KeptLooks): SeenLayer[] {
  const seen: SeenLayer[] = []
  for (const layer of inOrder(layers, kept)) {
    const below = seen.some(({ layer: upper, look }) => look.shown && holdsMiddleOf(upper, layer))
    seen.push({ layer, look: lookOf(layer, kept, !below) })
  }
  return seen
}

function lookOf(layer: Layer, { looks }: KeptLooks, shown: boolean): LayerLook {
  const kept = looks[layer.id]
  return {
    shown: kept?.shown ?? shown,
    opacity: kept?.opacity ?? 1,
    blend: kept?.blend ?? 'normal',
    view: viewFor(layer, kept?.view),
  }
}

export function changeLook(id: number, change: Partial<LayerLook>): void {
  keptLooks.set((now) => ({ ...now, looks: { ...now.looks, [id]: { ...now.looks[id], ...change } } }))
}

/** Shows or hides a layer, and leaves all others as they are seen now. */
export function showLayer(layers: readonly Layer[], id: number, shown: boolean): void {
  for (const { layer, look } of seenLayers(layers, keptLooks.get()))
    changeLook(layer.id, { shown: layer.id === id ? shown : look.shown })
}

/** Back to the usual view with its usual numbers. */
export function usualView(id: number): void {
  keptLooks.set((now) => {
    const { view: _, ...rest } = now.looks[id] ?? {}
    return { ...now, looks: { ...now.looks, [id]: rest } }
  })
}

/** Moves a layer to another place among all, 0 being the uppermost. */
export function moveLayer(layers: readonly Layer[], id: number, place: number): void {
  keptLooks.set((now) => ({
    ...now,
    order: movedTo(
      inOrder(layers, now).map((one) => one.id),
      id,
      place,
    ),
  }))
}
