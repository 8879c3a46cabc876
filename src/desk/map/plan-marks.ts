import type { Coordinate } from 'ol/coordinate.js'
import type VectorLayer from 'ol/layer/Vector.js'
import type OlMap from 'ol/Map.js'
import type { Mark, MarkKind, Target } from '#contract'
import type { Selection } from '../state/desk-state.ts'
import { MarkEditor, type MarkEditorHandlers } from './mark-editor.ts'
import { markLayer, targetLayer } from './mark-layer.ts'
import type { PlanColours } from './plan-colours.ts'

const targetReachPixels = 12
const lineReachPixels = 7

/** Marks and targets on the map, and what the pointer does to them. */
export class PlanMarks {
  readonly #map: OlMap
  readonly #marks = markLayer()
  readonly #targets = targetLayer()
  readonly #editor: MarkEditor

  constructor(map: OlMap, handlers: MarkEditorHandlers) {
    this.#map = map
    this.#editor = new MarkEditor(map, handlers)
  }

  get layers(): VectorLayer[] {
    return [this.#marks.layer, this.#targets.layer, this.#editor.layer]
  }

  paint(colours: PlanColours): void {
    for (const part of [this.#marks, this.#targets, this.#editor]) part.paint(colours)
  }

  show(marks: readonly Mark[]): void {
    this.#marks.show(marks)
  }

  showTargets(targets: readonly Target[]): void {
    this.#targets.show(targets)
  }

  setVisible(marks: boolean, targets: boolean): void {
    this.#marks.layer.setVisible(marks)
    this.#targets.layer.setVisible(targets)
  }

  /** Opens a mark with handles to change it by; null closes it. */
  open(mark: Mark | null): void {
    this.#marks.hide(mark?.id ?? null)
    this.#editor.open(mark)
  }

  chooseTarget(id: number | null): void {
    this.#targets.choose(id)
  }

  /** Lets the pointer draw a mark; until null is given clicks choose nothing. */
  draw(kind: MarkKind | null): void {
    this.#editor.draw(kind)
  }

  get drawing(): boolean {
    return this.#editor.drawing
  }

  /** Ends the line or outline being drawn, if it has places enough. */
  finish(): void {
    this.#editor.finish()
  }

  removeLast(): void {
    this.#editor.removeLast()
  }

  /** A target is drawn above its place: a click is on it up to its full height. */
  targetAt([easting = 0, northing = 0]: Coordinate): Selection | null {
    const metresPerPixel = this.#map.getView().getResolution() ?? 1
    const at = [easting, northing - 0.8 * targetReachPixels * metresPerPixel]
    const id = nearest(this.#targets.layer, at, targetReachPixels * metresPerPixel)
    return id === null ? null : { kind: 'target', id }
  }

  /** The mark on whose outline a place lies. */
  markAt(place: Coordinate): Selection | null {
    const id = nearest(this.#marks.layer, place, lineReachPixels * (this.#map.getView().getResolution() ?? 1))
    return id === null ? null : { kind: 'mark', id }
  }
}

/** Id of what lies nearest to a place on a shown layer, within reach in metres; for areas, their outline. */
function nearest(layer: VectorLayer, [easting = 0, northing = 0]: Coordinate, reach: number): number | null {
  if (!layer.getVisible()) return null
  let [best, least] = [null as number | null, reach]
  const box = [easting - reach, northing - reach, easting + reach, northing + reach]
  layer.getSource()?.forEachFeatureInExtent(box, (feature) => {
    const shape = feature.getGeometry()
    const [x = Infinity, y = Infinity] = shape?.getClosestPoint([easting, northing]) ?? []
    const far = Math.hypot(x - easting, y - northing)
    if (far <= least) [best, least] = [feature.getId() as number, far]
  })
  return best
}
