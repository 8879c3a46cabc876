import { pointInPolygon } from '#core/geometry'
import type { StoredArea, StoredPermission } from '#store'
import { permissionState } from '../land/permission-state.ts'

/** True where a permission is for an area, or its boundary holds the area's first corner. */
function isFor(permission: StoredPermission, area: StoredArea): boolean {
  if (permission.areaId === area.id) return true
  const ring = area.polygons[0]?.rings[0]
  if (ring === undefined || permission.polygons === null) return false
  return permission.polygons.some((polygon) => pointInPolygon(ring[0]!, ring[1]!, polygon))
}

/** What the permissions say of searching an area on a day, one sentence each; none where one is open. */
export function leaveFor(area: StoredArea, permissions: readonly StoredPermission[], day: string): string[] {
  const own = permissions.filter((permission) => isFor(permission, area))
  if (own.length === 0) {
    const name = area.name ?? `area ${area.id}`
    return [`No permission is written down for ${name}: get leave in writing before you go.`]
  }
  const told = own.map((permission) => permissionState(permission, day))
  return told.some(({ state }) => state === 'open') ? [] : told.map(({ stateText }) => stateText)
}
