import { systemFromEpsg } from './epsg-systems.ts'
import { type SourceSystem, sourceSystem } from './source-system.ts'
import { authorityCode, statedSystem, type UnknownSystem } from './stated-system.ts'

/**
 * What becomes of positions in the system that a .prj file states: well-known text of version 1 as ESRI and OGC write it, or
 * failing that the EPSG code that it carries. What it states goes before what it calls itself.
 *
 * Source  docs/methods/formats.md#coordinate-systems
 */
export function systemFromWkt(text: string): SourceSystem | UnknownSystem {
  const stated = statedSystem(text)
  const system = 'reason' in stated ? stated : sourceSystem(stated)
  if (!('reason' in system)) return system
  const code = authorityCode(text)
  return (code === null ? null : systemFromEpsg(code)) ?? system
}
