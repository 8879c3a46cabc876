import type { BearingFound, Layer } from '#contract'
import { type BearingSource, lineBearing } from '#core/lanes'
import { deskApi } from '../api/desk-api.ts'
import { sentenceOf } from '../api/request.ts'
import { createStore } from '../state/store.ts'
import { byTurns, changeForm, laneForm, wantedClick } from './lanes-state.ts'

type Place = readonly [number, number]

/** The line that was drawn for lanes to lie along, or as much of it as there is. */
export const bearingLine = createStore<readonly Place[]>([])

/** What was read from a layer. */
export interface BearingReading {
  readonly working: boolean
  readonly found: BearingFound | null
  readonly fault: string | null
}
const nothing: BearingReading = { working: false, found: null, fault: null }
export const bearingReading = createStore<BearingReading>(nothing)

/** Turns to another way of coming by a bearing; until one is there lanes lie along the fewest turns. */
export function chooseBearing(by: BearingSource): void {
  stopReading()
  bearingLine.set([])
  wantedClick.set(by === 'line' ? 'line' : null)
  const plain = { layer: null, spreadDeg: null }
  const bearing = by === 'given' ? (laneForm.get().bearing ?? 0) : null
  changeForm({ bearing, bearingFrom: { by, ...plain } })
}

/** A bearing that was typed; null for the fewest turns. */
export function typeBearing(bearing: number | null): void {
  stopReading()
  bearingLine.set([])
  changeForm({ bearing, bearingFrom: bearing === null ? byTurns : { ...byTurns, by: 'given' } })
}

/** One end of the line, then the other. */
export function takeLinePlace(place: Place): void {
  const line = [...bearingLine.get().slice(0, 1), place]
  const bearing = lineBearing(line.flat())
  if (line.length === 2 && Number.isNaN(bearing)) return
  bearingLine.set(line)
  if (line.length < 2) return
  wantedClick.set(null)
  changeForm({ bearing: Math.round(bearing * 10) / 10 })
}

/** The layers that a bearing can be read from. */
export function layersFor(by: BearingSource, layers: readonly Layer[]): Layer[] {
  const kinds: Layer['kind'][] = by === 'contour' ? ['terrain'] : by === 'plough' ? ['image', 'terrain'] : []
  return layers.filter(({ bounds, kind }) => bounds !== null && kinds.includes(kind))
}

let asked = new AbortController()

function stopReading(): void {
  asked.abort()
  bearingReading.set(nothing)
}

/** Reads the bearing of a layer over an area, and plans by it where it is clear. */
export async function readBearing(areaId: number, layer: Layer, by: 'plough' | 'contour'): Promise<void> {
  stopReading()
  asked = new AbortController()
  const { signal } = asked
  bearingReading.set({ ...nothing, working: true })
  try {
    const found = await deskApi.readBearing({ areaId, layerId: layer.id, by }, signal)
    if (signal.aborted) return
    bearingReading.set({ working: false, found, fault: null })
    changeForm({ bearing: null, bearingFrom: { by, layer: layer.name, spreadDeg: found.spreadDeg } })
    if (found.clear) takeFound(found)
  } catch (error) {
    if (!signal.aborted) bearingReading.set({ ...nothing, fault: sentenceOf(error) })
  }
}

/** Plans by what was read. */
export function takeFound({ bearing }: BearingFound): void {
  if (bearing !== null) changeForm({ bearing: Math.round(bearing * 10) / 10 })
}
