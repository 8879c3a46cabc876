/**
 * Trains the score of ring candidates and writes src/core/marks/rings/ring-model.ts: `node bench/marks-train.ts [--keep FOLDER]`. Scenes are made from the
 * seeds below, all under 1000; seeds from 1000 on are for tests and benches and are never trained on. `--keep` remembers each scene's features.
 * Method: logistic regression with a ridge penalty, by Newton steps (iteratively reweighted least squares).
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { featureNames, measuredRings } from '#core/marks'
import type { DrawnRing } from './scenes/features.ts'
import { isHit } from './scenes/judge.ts'
import { makeScene, type SceneKind, sceneDiameters } from './scenes/scene.ts'

const training: readonly (readonly [SceneKind, readonly number[]])[] = [
  ['plain', [101, 102, 103, 104, 105, 106, 107, 108, 109, 110, 111, 112]],
  ['ploughed', [101, 102, 103]],
  ['littered', [101, 102, 103]],
  ['rough', [101, 102, 103]],
]
/** Of the penalty, per feature; small against some 1500 positives. */
const penalty = 10

interface Example {
  readonly features: readonly number[]
  readonly ring: boolean
}

const keepAt = process.argv.indexOf('--keep')
const folder = keepAt < 0 ? null : process.argv[keepAt + 1]!
if (folder) mkdirSync(folder, { recursive: true })

function examplesOf(kind: SceneKind, seed: number): Example[] {
  const kept = folder && path.join(folder, `${kind}-${seed}.json`)
  if (kept && existsSync(kept)) return JSON.parse(readFileSync(kept, 'utf8')) as Example[]
  const { raster, rings } = makeScene(kind, seed)
  const settings = {
    minDiameterPx: sceneDiameters.min,
    maxDiameterPx: sceneDiameters.max,
    tone: 'dark',
    most: 500,
  } as const
  const examples = measuredRings(raster, settings).map((found) => ({
    features: [...found.features],
    ring: rings.some((ring: DrawnRing) => isHit(found, ring)),
  }))
  if (kept) writeFileSync(kept, JSON.stringify(examples))
  console.log(
    `${kind} ${seed}: ${examples.length} candidates, ${examples.filter(({ ring }) => ring).length} on rings`,
  )
  return examples
}

const examples = training.flatMap(([kind, seeds]) => seeds.flatMap((seed) => examplesOf(kind, seed)))
const size = featureNames.length
const mean = Array.from({ length: size }, (_, i) => average(examples.map(({ features }) => features[i]!)))
const spread = mean.map((middle, i) =>
  Math.sqrt(average(examples.map(({ features }) => (features[i]! - middle) ** 2))),
)
const rows = examples.map(({ features }) => [
  1,
  ...features.map((value, i) => (value - mean[i]!) / spread[i]!),
])
let weights = new Array<number>(size + 1).fill(0)
for (let step = 0; step < 30; step++) {
  const matrix = Array.from({ length: size + 1 }, (_, i) =>
    Array.from({ length: size + 1 }, (_, j) => (i === j && i > 0 ? penalty : 0)),
  )
  const right = weights.map((weight, i) => (i > 0 ? -penalty * weight : 0))
  rows.forEach((row, n) => {
    const p = 1 / (1 + Math.exp(-dot(row, weights)))
    const off = (examples[n]!.ring ? 1 : 0) - p
    const w = p * (1 - p)
    for (let i = 0; i <= size; i++) {
      right[i]! += row[i]! * off
      for (let j = 0; j <= i; j++) matrix[i]![j]! += w * row[i]! * row[j]!
    }
  })
  for (let i = 0; i <= size; i++) for (let j = 0; j < i; j++) matrix[j]![i] = matrix[i]![j]!
  const change = solved(matrix, right)
  weights = weights.map((weight, i) => weight + change[i]!)
  if (Math.max(...change.map(Math.abs)) < 1e-8) break
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0)
}

/** Gaussian elimination with the largest pivot. */
function solved(matrix: number[][], right: number[]): number[] {
  const n = right.length
  const a = matrix.map((row, i) => [...row, right[i]!])
  for (let i = 0; i < n; i++) {
    let pivot = i
    for (let j = i + 1; j < n; j++) if (Math.abs(a[j]![i]!) > Math.abs(a[pivot]![i]!)) pivot = j
    ;[a[i], a[pivot]] = [a[pivot]!, a[i]!]
    for (let j = i + 1; j < n; j++) {
      const times = a[j]![i]! / a[i]![i]!
      for (let k = i; k <= n; k++) a[j]![k]! -= times * a[i]![k]!
    }
  }
  const out = new Array<number>(n).fill(0)
  for (let i = n - 1; i >= 0; i--) {
    let sum = a[i]![n]!
    for (let k = i + 1; k < n; k++) sum -= a[i]![k]! * out[k]!
    out[i] = sum / a[i]![i]!
  }
  return out
}

const list = (values: readonly number[]): string =>
  `[${values.map((value) => Number(value.toPrecision(6))).join(', ')}]`
const seedsTold = training.map(([kind, seeds]) => `${kind} ${seeds[0]} to ${seeds.at(-1)}`).join('; ')
const text = `/**
 * Made by bench/marks-train.ts, never by hand: a logistic model of ring candidates, in the order of featureNames. Trained on ${examples.length} candidates,
 * ${examples.filter(({ ring }) => ring).length} of them on rings, of synthetic scenes (seeds ${seedsTold}); ridge penalty ${penalty}.
 */
export const ringModel = {
  mean: ${list(mean)},
  spread: ${list(spread)},
  weights: ${list(weights.slice(1))},
  constant: ${Number(weights[0]!.toPrecision(6))},
}
`
writeFileSync(new URL('../src/core/marks/rings/ring-model.ts', import.meta.url), text)
for (const [i, name] of featureNames.entries()) console.log(name.padEnd(20), weights[i + 1]!.toFixed(3))
