import type { Permission, PermissionEdit } from '#contract'
import { createStore } from '../state/store.ts'

export type PermissionDraft = Required<Omit<PermissionEdit, 'polygons'>>

/** A permission being written down or changed: it stays while its boundary is drawn or another stage is looked at. */
export interface OpenPermission {
  /** Null for a new one. */
  readonly id: number | null
  readonly draft: PermissionDraft
}

export const openPermission = createStore<OpenPermission | null>(null)

const empty: PermissionDraft = {
  name: '',
  holder: null,
  contact: null,
  areaId: null,
  startsOn: null,
  endsOn: null,
  terms: null,
  findsShare: null,
  access: null,
}

/** Opens the form of a permission; null for a new one. */
export function writePermission(permission: Permission | null): void {
  if (!permission) {
    openPermission.set({ id: null, draft: empty })
    return
  }
  const { id, name, holder, contact, areaId, startsOn, endsOn, terms, findsShare, access } = permission
  const draft = { name, holder, contact, areaId, startsOn, endsOn, terms, findsShare, access }
  openPermission.set({ id, draft })
}

export function changePermissionDraft(edit: Partial<PermissionDraft>): void {
  openPermission.set((now) => now && { ...now, draft: { ...now.draft, ...edit } })
}
