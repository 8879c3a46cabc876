import { featureNames } from './ring-features.ts'
import { ringModel } from './ring-model.ts'

/** A logistic model of features. */
export interface LogisticModel {
  readonly mean: readonly number[]
  readonly spread: readonly number[]
  readonly weights: readonly number[]
  readonly constant: number
}

/** Logarithm of the odds that features belong to a ring, on scenes like those of the training. */
export function logOdds(features: Float64Array, model: LogisticModel = ringModel): number {
  const { mean, spread, weights, constant } = model
  if (features.length !== weights.length || features.length !== featureNames.length)
    throw new RangeError(`${features.length} features for a model of ${weights.length}`)
  let sum = constant
  for (let i = 0; i < weights.length; i++) sum += (weights[i]! * (features[i]! - mean[i]!)) / spread[i]!
  return sum
}

export function chance(odds: number): number {
  return 1 / (1 + Math.exp(-odds))
}
