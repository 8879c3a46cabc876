import type { Coordinate } from 'ol/coordinate.js'
import type { AreaDraft } from '../land/area-draft.ts'
import type { StackHandlers } from '../layers/picture-stack.ts'
import type { Selection } from '../state/desk-state.ts'
import type { MarkEditorHandlers } from './mark-editor.ts'
import type { LineLoader } from './track-layer.ts'

export type PlanBounds = readonly [west: number, south: number, east: number, north: number]

/** News that the map carries out. */
export interface PlanHandlers {
  readonly loadLine: LineLoader
  readonly pictures: StackHandlers
  readonly marks: MarkEditorHandlers
  readonly failed: (error: unknown) => void
  /** Clicked on; `more` with the key held by which it is picked beside others. */
  readonly chosen: (selection: Selection | null, more: boolean) => void
  /** A place was clicked; true where that was asked for, and then nothing is chosen. */
  readonly placed: (place: Coordinate) => boolean
  /** The pointer is over this place; null once it has left the map. */
  readonly pointed: (place: Coordinate | null) => void
  readonly moved: (view: { readonly centre: Coordinate; readonly metresPerPixel: number }) => void
  readonly draftClosed: (polygons: AreaDraft['polygons']) => void
  readonly draftChanged: (polygons: AreaDraft['polygons']) => void
  /** While measuring: a place was clicked, or the first point again. */
  readonly measured: (place: Coordinate) => void
  readonly figureClosed: () => void
}
