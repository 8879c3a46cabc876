import { type SourceSystem, systemFromEpsg, systemFromWkt } from '#formats/coordinate-system'
import { type FaultList, quoted } from '#formats/fault-list'
import { type LayerFiles, partText } from './layer-files.ts'
import { shapeAt } from './record-shape.ts'
import type { RecordSpans } from './record-spans.ts'

/**
 * The coordinate system of a layer, as its .prj states it. Where there is none, or one that is not known, figures that all would do
 * as longitude and latitude are taken for that on WGS84, which is said; for others null, and what to do is said. Cost: where there
 * is no known .prj, one more pass over the shapes.
 */
export function layerSystem(
  layer: LayerFiles,
  shp: Uint8Array,
  spans: RecordSpans,
  faults: FaultList,
): SourceSystem | null {
  const prj = layer.bytes('prj')
  const stated = prj === null ? null : systemFromWkt(partText(prj))
  if (stated !== null && !('reason' in stated)) {
    if (stated.note !== null) faults.note(null, 'assumed', `${layer.shp}: ${stated.note}`)
    if (!stated.degrees && range(shp, spans) === 'degrees') {
      const text = `${layer.shp} is said to be in ${quoted(stated.name)}, but all its figures would do as longitude and latitude; check its .prj.`
      faults.note(null, 'assumed', text)
    }
    return stated
  }
  const why = `${layer.nameOf('prj')} ${stated?.reason ?? (layer.has('prj') ? 'cannot be read' : 'is not in the archive')}`
  const found = range(shp, spans)
  if (found === 'other') {
    const todo =
      stated === null
        ? `put the .prj that belongs to ${layer.shp} into the zip`
        : 'export the layer in WGS84 or another common system'
    const text = `${layer.shp} was not read: ${why}, and its figures are no longitude and latitude; ${todo}.`
    faults.note(null, 'unknown-system', text)
    return null
  }
  if (found === 'degrees') {
    const text = `${why}; positions were taken to be longitude and latitude on WGS84, since all lie in that range.`
    faults.note(null, 'assumed', text)
  }
  return systemFromEpsg(4326)
}

/** Whether all positions could be longitude and latitude; 'none' where there are none. Cost: stops at the first that could not. */
function range(shp: Uint8Array, spans: RecordSpans): 'none' | 'degrees' | 'other' {
  let found: 'none' | 'degrees' = 'none'
  for (let i = 0; i < spans.from.length; i++) {
    const shape = shapeAt(shp, spans, i)
    if ('code' in shape) continue
    found = 'degrees'
    const { xy } = shape
    for (let k = 0; k < xy.length; k += 2) {
      if (!(Math.abs(xy[k]!) <= 180 && Math.abs(xy[k + 1]!) <= 90)) return 'other'
    }
  }
  return found
}
