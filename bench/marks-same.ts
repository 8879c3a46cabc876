/**
 * Whether a change to the detector leaves what it finds as it was: `node bench/marks-same.ts FILE.json KIND SEED…` writes the candidates of those scenes where
 * there is no such file, and otherwise compares with it: how many of the file's are found again within 0.5 pixels of centre and diameter, and how far
 * scores and rates differ. Run it before the change and after.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { findRings, type RingCandidate } from '#core/marks'
import { makeScene, type SceneKind, sceneDiameters } from './scenes/scene.ts'

const [file = 'marks-before.json', kind = 'plain', ...seeds] = process.argv.slice(2)
const settings = {
  minDiameterPx: sceneDiameters.min,
  maxDiameterPx: sceneDiameters.max,
  tone: 'dark',
  most: 400,
} as const
const now = seeds.map((seed) => findRings(makeScene(kind as SceneKind, Number(seed)).raster, settings))
if (existsSync(file)) {
  const before = JSON.parse(readFileSync(file, 'utf8')) as RingCandidate[][]
  seeds.forEach((seed, i) => {
    for (const least of [0.5, 0.05, 0.001]) compare(`${kind}-${seed}`, least, before[i] ?? [], now[i] ?? [])
  })
} else writeFileSync(file, JSON.stringify(now))

function compare(
  scene: string,
  least: number,
  before: readonly RingCandidate[],
  after: readonly RingCandidate[],
): void {
  const wanted = before.filter(({ score }) => score > least)
  let [again, offPlace, offScore, offRate] = [0, 0, 0, 0]
  for (const one of wanted) {
    const same = after.find(
      ({ x, y, diameter }) =>
        Math.hypot(x - one.x, y - one.y) < 0.5 && Math.abs(diameter - one.diameter) < 0.5,
    )
    if (!same) continue
    again++
    offPlace = Math.max(offPlace, Math.hypot(same.x - one.x, same.y - one.y))
    offScore = Math.max(offScore, Math.abs(same.score - one.score))
    offRate = Math.max(offRate, Math.abs(Math.log(same.falseAlarmsPerMpx / one.falseAlarmsPerMpx)))
  }
  const count = after.filter(({ score }) => score > least).length
  console.log(
    JSON.stringify({ scene, least, before: wanted.length, after: count, again, offPlace, offScore, offRate }),
  )
}
