/**
 * Whether "so many false alarms a million pixels" is what ringless ground gives: `node bench/marks-calibration.ts [IMAGES]` looks for rings on
 * synthetic ground without any, bare and with confusers (blobs, tramlines, field edges; on littered ground crowns, ponds and lettering too), counts candidates at or below each rate, and draws
 * docs/methods/marks-calibration.svg. Seeds 6000 on, which neither the training nor the choice of the surrogates ever saw.
 */
import { writeFileSync } from 'node:fs'
import { findRings } from '#core/marks'
import { makeScene, type SceneKind, sceneDiameters } from './scenes/scene.ts'

const images = Number(process.argv[2] ?? 16)
const side = 1000
/** With confusers where true. */
const kinds: readonly (readonly [SceneKind, boolean])[] = [
  ['plain', false],
  ['ploughed', false],
  ['rough', false],
  ['plain', true],
  ['littered', true],
  ['rough', true],
]
const rates = [0.03, 0.1, 0.3, 1, 3, 10, 30]
const settings = {
  minDiameterPx: sceneDiameters.min,
  maxDiameterPx: sceneDiameters.max,
  tone: 'dark',
  most: 400,
} as const

interface Series {
  readonly label: string
  readonly counts: readonly number[]
}

function counted(kind: SceneKind, confusers: boolean): Series {
  const counts = rates.map(() => 0)
  for (let i = 0; i < images; i++) {
    const { raster } = makeScene(kind, 6000 + i, { side, rings: 0, broken: 0, confusers })
    for (const { falseAlarmsPerMpx } of findRings(raster, settings))
      rates.forEach((rate, n) => {
        if (falseAlarmsPerMpx <= rate) counts[n]! += 1
      })
  }
  const label = `${kind}${confusers ? ' with confusers' : ', bare'}`
  console.log(
    label,
    Object.fromEntries(rates.map((rate, n) => [rate, `${counts[n]} (${rate * images} expected)`])),
  )
  return { label, counts }
}

const area = (images * side * side) / 1e6
const series = kinds.map(([kind, confusers]) => counted(kind, confusers))
writeFileSync(new URL('../docs/methods/marks-calibration.svg', import.meta.url), drawing(series))

/** Log-log: what was claimed across, what was counted up, a million pixels both; the straight line is what should be, its band 95 % of Poisson counts. */
function drawing(all: readonly Series[]): string {
  const [width, height, left, top] = [560, 460, 70, 20]
  const [low, high] = [Math.log10(0.02), Math.log10(60)]
  const x = (rate: number): number => left + ((Math.log10(rate) - low) / (high - low)) * (width - left - 20)
  const y = (rate: number): number =>
    height - 50 - ((Math.log10(Math.max(rate, 0.02)) - low) / (high - low)) * (height - 50 - top)
  const point = (rate: number, found: number): string => `${x(rate).toFixed(1)},${y(found).toFixed(1)}`
  const bounds = rates.map((rate) => {
    const mean = rate * area
    const half = 1.96 * Math.sqrt(mean)
    return [Math.max(0, mean - half) / area, (mean + half) / area] as const
  })
  const band = [
    ...rates.map((rate, i) => point(rate, bounds[i]![1])),
    ...rates.map((rate, i) => point(rate, bounds[i]![0])).reverse(),
  ].join(' ')
  const strokes = ['#31688e', '#35b779', '#8a6d00', '#440154', '#21918c', '#b5402a']
  const dashes = ['', '6 3', '2 3', '8 3 2 3', '12 3', '4 2 1 2']
  const lines = all.map(({ label, counts }, i) => {
    const points = rates.map((rate, n) => point(rate, counts[n]! / area)).join(' ')
    const key = `<text x="${left + 52}" y="${top + 18 + 18 * i}">${label}</text><line x1="${left + 12}" x2="${left + 46}" y1="${top + 14 + 18 * i}" y2="${top + 14 + 18 * i}" stroke="${strokes[i]}" stroke-width="2" stroke-dasharray="${dashes[i]}"/>`
    return `<polyline points="${points}" fill="none" stroke="${strokes[i]}" stroke-width="2" stroke-dasharray="${dashes[i]}"/>${key}`
  })
  const ticks = rates.map(
    (rate) =>
      `<text x="${x(rate).toFixed(1)}" y="${height - 32}" text-anchor="middle">${rate}</text><text x="${left - 8}" y="${(y(rate) + 4).toFixed(1)}" text-anchor="end">${rate}</text>`,
  )
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" font-family="sans-serif" font-size="12" role="img">`,
    `<title>False alarms claimed and counted on ${area} million pixels of ringless ground</title><rect width="100%" height="100%" fill="#fff"/>`,
    `<polygon points="${band}" fill="#ddd"/><polyline points="${rates.map((rate) => point(rate, rate)).join(' ')}" fill="none" stroke="#666"/>`,
    ...lines,
    ...ticks,
    `<text x="${(left + width) / 2}" y="${height - 10}" text-anchor="middle">claimed, a million pixels</text>`,
    `<text transform="translate(16 ${height / 2}) rotate(-90)" text-anchor="middle">counted, a million pixels</text>`,
    '</svg>\n',
  ].join('\n')
}
