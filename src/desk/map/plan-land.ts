import type BaseLayer from 'ol/layer/Base.js'
import type { ConstraintSet } from '#contract'
import { constraintLayer } from './constraint-layer.ts'
import { guideLayer } from './guide-layer.ts'
import { laneLayer, type ShownLanes } from './lane-layer.ts'
import type { PlanColours } from './plan-colours.ts'

/** What is to be left alone, and the lanes of a plan, on the map. */
export class PlanLand {
  readonly #constraints = constraintLayer()
  readonly #lanes = laneLayer()
  readonly #guide = guideLayer()

  get layers(): BaseLayer[] {
    return [this.#constraints.layer, this.#lanes.layer, this.#guide.layer]
  }

  paint(colours: PlanColours): void {
    this.#constraints.paint(colours)
    this.#lanes.paint(colours)
    this.#guide.paint(colours)
  }

  /** Lanes of a plan; null for none. */
  showLanes(shown: ShownLanes | null): void {
    this.#lanes.show(shown)
  }

  /** The line that lanes are to lie along; no places for none. */
  showGuide(places: readonly (readonly [number, number])[]): void {
    this.#guide.show(places)
  }

  showConstraints(sets: readonly ConstraintSet[]): void {
    this.#constraints.show(sets)
  }
}
