import initGeosJs from 'geos-wasm'
import { GroundOverlay } from '#core/overlay'

let loaded: Promise<GroundOverlay> | null = null

/** Exact sums of ground with ground. GEOS is loaded when they are first asked for, which takes some 50 ms. */
export function groundOverlay(): Promise<GroundOverlay> {
  loaded ??= initGeosJs({ noticeHandler: () => {} }).then((geos) => new GroundOverlay(geos))
  return loaded
}
