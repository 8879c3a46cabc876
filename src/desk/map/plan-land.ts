import type BaseLayer from 'ol/layer/Base.js'
import type { ConstraintSet } from '#contract'
import { constraintLayer } from './constraint-layer.ts'
import { laneLayer, type ShownLanes } from './lane-layer.ts'
import type { PlanColours } from './plan-colours.ts'

/** What is to be left alone, and the lanes of a plan, on the map. */
export class PlanLand {
  readonly #constraints = constraintLayer()
  readonly #lanes = laneLayer()

  get layers(): BaseLayer[] {
    return [this.#constraints.layer, this.#lanes.layer]
  }

  paint(colours: PlanColours): void {
    this.#constraints.paint(colours)
    this.#lanes.paint(colours)
  }

  /** Lanes of a plan; null for none. */
  showLanes(shown: ShownLanes | null): void {
    this.#lanes.show(shown)
  }

  showConstraints(sets: readonly ConstraintSet[]): void {
    this.#constraints.show(sets)
  }
}
