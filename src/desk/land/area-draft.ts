import type { AreaKind, AreaView, Permission } from '#contract'
import { deskApi } from '../api/desk-api.ts'
import { refreshSurvey } from '../api/queries.ts'
import { endMeasure } from '../measure/measure-state.ts'
import { workOutCoverIfStale } from '../state/cover-run.ts'
import { selection } from '../state/desk-state.ts'
import { createStore } from '../state/store.ts'
import type { Polygons } from './corners.ts'

/** A search area being drawn or changed; nothing of it is in the survey until it is kept. */
export interface AreaDraft {
  /** Null for a new area. */
  readonly id: number | null
  readonly name: string
  readonly kind: AreaKind
  /** The permission whose boundary is drawn; null for an area. */
  readonly permission: number | null
  /** 'draw' until the outline is closed. */
  readonly phase: 'draw' | 'edit'
  readonly polygons: Polygons
}

export const areaDraft = createStore<AreaDraft | null>(null)

/** Begins a new area: the next clicks on the map are its corners. */
export function drawArea(name: string): void {
  endMeasure()
  selection.set(null)
  areaDraft.set({ id: null, name, kind: 'search', permission: null, phase: 'draw', polygons: [] })
}

/** Begins to change an area that there is. */
export function editArea(area: AreaView): void {
  endMeasure()
  selection.set(null)
  const { id, name, kind, polygons } = area
  areaDraft.set({ id, name, kind, permission: null, phase: 'edit', polygons })
}

/** Begins to draw the boundary of a permission, or to change the one that it has. */
export function drawBoundary({ id, name, polygons }: Permission): void {
  endMeasure()
  selection.set(null)
  const drawn = polygons ?? []
  const phase = drawn.length > 0 ? 'edit' : 'draw'
  areaDraft.set({ id: null, name, kind: 'field', permission: id, phase, polygons: drawn })
}

/** Changes the draft, if there is one. */
export function changeDraft(change: Partial<Pick<AreaDraft, 'name' | 'kind' | 'phase' | 'polygons'>>): void {
  areaDraft.set((now) => now && { ...now, ...change })
}

/** Leaves the draft; the survey stays as it was. */
export function dropDraft(): void {
  areaDraft.set(null)
}

/** Puts the draft into the survey. Faults: RequestError with the server's sentence; the draft then stays. */
export async function keepDraft(): Promise<void> {
  const draft = areaDraft.get()
  if (!draft) return
  if (draft.permission !== null) {
    await deskApi.changePermission(draft.permission, { polygons: draft.polygons })
    await refreshSurvey()
    areaDraft.set(null)
    return
  }
  const edit = { name: draft.name.trim(), kind: draft.kind, polygons: draft.polygons }
  const area = draft.id === null ? await deskApi.addArea(edit) : await deskApi.changeArea(draft.id, edit)
  // The new outline is fetched before the draft goes, so that the old one does not show between.
  await refreshSurvey()
  areaDraft.set(null)
  selection.set({ kind: 'area', id: area.id })
  void workOutCoverIfStale()
}
