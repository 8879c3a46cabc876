import type BaseLayer from 'ol/layer/Base.js'
import type { ConstraintSet, Permission } from '#contract'
import { boundaryLayer } from './boundary-layer.ts'
import { constraintLayer } from './constraint-layer.ts'
import { guideLayer } from './guide-layer.ts'
import { laneLayer, type ShownLanes } from './lane-layer.ts'
import type { PlanColours } from './plan-colours.ts'
import { type WalkedLanes, walkedLanesLayer } from './walked-lanes-layer.ts'

/** What is to be left alone, the lanes of a plan, and those of one that was walked, on the map. */
export class PlanLand {
  readonly #boundaries = boundaryLayer()
  readonly #constraints = constraintLayer()
  readonly #lanes = laneLayer()
  readonly #guide = guideLayer()
  readonly #walked = walkedLanesLayer()

  get layers(): BaseLayer[] {
    return [
      this.#boundaries.layer,
      ...this.#constraints.layers,
      ...this.#lanes.layers,
      this.#guide.layer,
      this.#walked.layer,
    ]
  }

  paint(colours: PlanColours): void {
    this.#boundaries.paint(colours)
    this.#constraints.paint(colours)
    this.#lanes.paint(colours)
    this.#guide.paint(colours)
    this.#walked.paint(colours)
  }

  setVisible(constraints: boolean, lanes: boolean): void {
    for (const layer of this.#constraints.layers) layer.setVisible(constraints)
    for (const layer of this.#lanes.layers) layer.setVisible(lanes)
  }

  /** Lanes of a plan; null for none. */
  showLanes(shown: ShownLanes | null): void {
    this.#lanes.show(shown)
  }

  /** Permissions whose own boundaries are shown. */
  showBoundaries(permissions: readonly Permission[]): void {
    this.#boundaries.show(permissions)
  }

  /** The line that lanes are to lie along; no places for none. */
  showGuide(places: readonly (readonly [number, number])[]): void {
    this.#guide.show(places)
  }

  /** A plan as it was walked; null for none. */
  showWalked(shown: WalkedLanes | null): void {
    this.#walked.show(shown)
  }

  showConstraints(sets: readonly ConstraintSet[]): void {
    this.#constraints.show(sets)
  }
}
