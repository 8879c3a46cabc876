import { rememberedFlag } from './remembered.ts'
import { createStore, type Store } from './store.ts'

/** The stages of the work that can be done now, in the order of the work. */
export const stages = ['land', 'marks', 'plan', 'visits', 'finds'] as const
export type Stage = (typeof stages)[number]

const comesBackTo = 'lynchet.comes-back-to'

/** Loads the page anew, and comes back to the stage that is open. */
export function loadAnew(): void {
  sessionStorage.setItem(comesBackTo, stage.get())
  location.reload()
}

function firstStage(): Stage {
  if (typeof sessionStorage === 'undefined') return 'visits'
  const kept = sessionStorage.getItem(comesBackTo) as Stage | null
  sessionStorage.removeItem(comesBackTo)
  return kept !== null && stages.includes(kept) ? kept : 'visits'
}

export const stage = createStore<Stage>(firstStage())
/** False while the panel is folded away and the map has all the room. */
export const panelOpen = createStore(true)

/** The one thing that is chosen, on the map and in its list alike. */
export interface Selection {
  readonly kind: 'area' | 'track' | 'gap' | 'findspot' | 'mark' | 'target'
  readonly id: number
}
export const selection = createStore<Selection | null>(null)

export type LayerName =
  | 'areas'
  | 'constraints'
  | 'lanes'
  | 'cover'
  | 'gaps'
  | 'tracks'
  | 'findspots'
  | 'marks'
  | 'targets'
type ShownLayers = Readonly<Record<LayerName, boolean>>
const everything: ShownLayers = {
  areas: true,
  constraints: true,
  lanes: true,
  cover: true,
  gaps: true,
  tracks: true,
  findspots: true,
  marks: true,
  targets: true,
}
const usuallyShown = createStore(everything)
const uncovered: ShownLayers = { ...everything, cover: false, gaps: false, tracks: false, findspots: false }
const shownInMarks = createStore(uncovered)
const shownInPlan = createStore(uncovered)

/** What the map shows. In Marks the pictures come first, in Plan the lanes: what would hide them is off until it is asked for there. */
export function shownLayers(now: Stage): Store<ShownLayers> {
  if (now === 'marks') return shownInMarks
  return now === 'plan' ? shownInPlan : usuallyShown
}

export type DialogName =
  | 'surveys'
  | 'new-survey'
  | 'export'
  | 'keys'
  | 'labels'
  | 'finds-table'
  | 'photographs'
export const openDialog = createStore<DialogName | null>(null)

/** Single keys act as shortcuts unless the user has turned them off (WCAG 2.2, 2.1.4). */
export const singleKeys = rememberedFlag('single-keys', true)
export const tourSeen = rememberedFlag('tour-seen', false)
export const legendOpen = rememberedFlag('legend-open', true)

/** Where cards have no room on the map they take the place of the panel: true until a stage is asked for. */
export const cardsInFront = createStore(false)

export type CardName = 'place' | 'measure'
/** The card that was asked for last: it stands above the other. */
export const upperCard = createStore<CardName>('place')

/** Brings a card before all that may hide it. */
export function bringCard(name: CardName): void {
  upperCard.set(name)
  cardsInFront.set(true)
}

/** Goes to a stage and opens its panel; the stage already open folds its panel away. */
export function goToStage(next: Stage): void {
  cardsInFront.set(false)
  if (stage.get() === next) panelOpen.set((open) => !open)
  else {
    stage.set(next)
    panelOpen.set(true)
  }
}

/** Shows a stage's panel, whatever was open. */
export function showStage(next: Stage): void {
  cardsInFront.set(false)
  stage.set(next)
  panelOpen.set(true)
}
