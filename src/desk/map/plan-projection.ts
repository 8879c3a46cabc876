import Projection from 'ol/proj/Projection.js'

/** A survey's grid as plain planar metres, east then north. Nothing is ever transformed: all data arrive in it. */
export function planProjection(epsg: number): Projection {
  return new Projection({ code: `survey:${epsg}`, units: 'm', axisOrientation: 'enu', metersPerUnit: 1 })
}
