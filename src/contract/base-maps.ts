import * as z from 'zod'
import { originOf } from './origin-of.ts'

/** What is wrong with an address in one sentence; null where nothing is. */
function addressFault(kind: 'xyz' | 'wmts', address: string): string | null {
  if (!/^[\x21-\x7e]{1,2000}$/.test(address) || originOf(address) === null)
    return 'the address must begin with https:// or http:// and the name of a server'
  if (kind === 'wmts') return null
  const has = (name: string): boolean => address.includes(`{${name}}`)
  return has('z') && has('x') && (has('y') || has('-y'))
    ? null
    : 'the address needs {z}, {x} and {y} where the numbers of a tile go'
}

/** A map that the user gives an address of. Its server is asked by the browser, and sees which places are looked at. */
export const baseMapShape = z
  .strictObject({
    name: z.string().trim().min(1).max(100),
    /** xyz: tiles in web mercator, by a template with {z}, {x} and {y} (or {-y}, counted from the south). wmts: the address of the capabilities. */
    kind: z.enum(['xyz', 'wmts']),
    address: z.string().trim(),
    /** The layer of a WMTS; null takes its first. */
    layer: z.string().trim().min(1).max(200).nullable(),
    /** Stands on the map while it is shown: owners of maps ask for it. */
    attribution: z.string().trim().min(1, 'say whose map it is').max(500),
  })
  .superRefine(({ kind, address }, context) => {
    const fault = addressFault(kind, address)
    if (fault !== null) context.addIssue({ code: 'custom', message: fault, path: ['address'] })
  })
export type BaseMap = z.infer<typeof baseMapShape>

/** GET and PUT /api/base-maps: the maps of this user, whatever survey is open, and which one is shown (from 0), if any. */
export const baseMapsShape = z
  .strictObject({ maps: z.array(baseMapShape).max(20), shown: z.number().int().min(0).nullable() })
  .refine(({ maps, shown }) => shown === null || shown < maps.length, 'no map has the number that is shown')
export type BaseMaps = z.infer<typeof baseMapsShape>
