import { boxReach, boxReliefRows, type LocalReliefOptions } from './box-relief.ts'
import { gaussianReach, gaussianReliefRows } from './gaussian-relief.ts'
import {
  type HillshadeOptions,
  hillshadeRows,
  type MultiHillshadeOptions,
  multiHillshadeRows,
} from './hillshade.ts'
import { castRays, type HorizonOptions } from './horizon.ts'
import { opennessRows } from './openness.ts'
import { skyViewRows } from './sky-view.ts'
import { type AspectOptions, aspectRows, type SlopeOptions, slopeRows } from './steepness.ts'
import type { Reach, Terrain } from './terrain.ts'

/** A view that is grey from the start: 1 to 255, 0 for no data. */
export type GreyView =
  | ({ readonly view: 'hillshade' } & HillshadeOptions)
  | ({ readonly view: 'multi-hillshade' } & MultiHillshadeOptions)

/** A view whose cells are measures: degrees, percent, metres or shares, NaN for no data. */
export type MeasuredView =
  | ({ readonly view: 'slope' } & SlopeOptions)
  | ({ readonly view: 'aspect' } & AspectOptions)
  | ({ readonly view: 'local-relief'; readonly shape: 'box' | 'gaussian' } & LocalReliefOptions)
  | ({ readonly view: 'sky-view' | 'openness-up' | 'openness-down' } & HorizonOptions)

/** Each cell of a view follows from the terrain within its reach. A blend follows from two of them and their percentiles. */
export type ReliefView = GreyView | MeasuredView

export function isGreyView(view: ReliefView): view is GreyView {
  return view.view === 'hillshade' || view.view === 'multi-hillshade'
}

/** Works out rows of a grey view; cost and faults are those of the view's own function. */
export function greyRows(
  terrain: Terrain,
  view: GreyView,
  out: Uint8Array,
  rowFrom: number,
  rowTo: number,
): void {
  if (view.view === 'hillshade') hillshadeRows(terrain, view, out, rowFrom, rowTo)
  else multiHillshadeRows(terrain, view, out, rowFrom, rowTo)
}

/** Works out rows of a measured view; cost and faults are those of the view's own function. */
export function measuredRows(
  terrain: Terrain,
  view: MeasuredView,
  out: Float32Array,
  rowFrom: number,
  rowTo: number,
): void {
  if (view.view === 'slope') slopeRows(terrain, view, out, rowFrom, rowTo)
  else if (view.view === 'aspect') aspectRows(terrain, view, out, rowFrom, rowTo)
  else if (view.view === 'sky-view') skyViewRows(terrain, view, out, rowFrom, rowTo)
  else if (view.view === 'local-relief') {
    if (view.shape === 'box') boxReliefRows(terrain, view, out, rowFrom, rowTo)
    else gaussianReliefRows(terrain, view, out, rowFrom, rowTo)
  } else {
    const towards = view.view === 'openness-up' ? 'up' : 'down'
    opennessRows(terrain, { ...view, towards }, out, rowFrom, rowTo)
  }
}

/**
 * How far a view looks beyond a cell. A part of a terrain cut out with this margin gives, inside the margin, exactly what the whole
 * terrain gives. Faults: RangeError where the view's radius does not suit the cells.
 */
export function reachOf(terrain: Terrain, view: ReliefView): Reach {
  switch (view.view) {
    case 'local-relief':
      return view.shape === 'box' ? boxReach(terrain, view.radiusM) : gaussianReach(terrain, view.radiusM)
    case 'sky-view':
    case 'openness-up':
    case 'openness-down':
      return castRays(terrain, view).reach
    default:
      return { columns: 1, rows: 1 }
  }
}
