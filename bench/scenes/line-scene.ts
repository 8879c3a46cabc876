import type { Raster } from '#core/marks'
import { type Random, seededRandom, uniform, unit } from '#core/random'
import { blankCanvas, type Canvas } from './canvas.ts'
import { drawBlob } from './features.ts'
import {
  beside,
  curved,
  type DrawnLine,
  drawPolyline,
  drawStep,
  type LineSort,
  lengthOf,
  rectangle,
  straight,
} from './line-features.ts'
import { drawGround, grainLevel, type SceneKind } from './scene.ts'

/** A synthetic scene with lines whose places are known: how a detector does on it says nothing about any real field. */
export interface LineScene {
  readonly raster: Raster
  /** What is to be found. */
  readonly lines: readonly DrawnLine[]
  /** What looks like it and is not: tramlines and field edges. */
  readonly others: readonly DrawnLine[]
}

/** Asked for in every scene, pixels: a little beyond what is drawn. */
export const lineAsked = { minWidthPx: 1.5, maxWidthPx: 6, leastLengthPx: 20 } as const

interface Size {
  readonly side: number
  /** Of each sort for 2000 x 2000 pixels; fewer on less. */
  readonly counts: Readonly<Record<LineSort | 'blob', number>>
}

const full: Size = {
  side: 2000,
  counts: {
    straight: 14,
    curved: 12,
    bank: 8,
    trackway: 4,
    enclosure: 8,
    tramlines: 3,
    'field edge': 6,
    blob: 40,
  },
}

/** Contrasts of the lines that are to be found, least and greatest, in standard deviations of the grain: many are hardly seen by eye. */
export const faint = [0.7, 2] as const
/** Those of the rings in `makeScene`. */
export const likeRings = [1.6, 3.8] as const
type Contrasts = readonly [least: number, most: number]

export function makeLineScene(
  kind: SceneKind,
  seed: number,
  { side, counts }: Size = full,
  contrasts: Contrasts = faint,
): LineScene {
  const random = seededRandom(seed)
  const canvas = blankCanvas(side)
  drawGround(random, canvas, kind)
  const unitLevel = grainLevel(canvas)
  const share = (side / full.side) ** 2
  const times = (sort: LineSort | 'blob'): number[] =>
    Array.from({ length: Math.round(counts[sort] * share) }, (_, i) => i)
  for (const _ of times('blob'))
    drawBlob(
      canvas,
      [uniform(random, 0, side), uniform(random, 0, side), uniform(random, 3, 14)],
      -uniform(random, 0.8, 2) * unitLevel,
    )
  const others: DrawnLine[] = []
  for (const _ of times('field edge')) others.push(fieldEdge(random, canvas, unitLevel))
  for (const _ of times('tramlines')) others.push(...tramlines(random, side))
  const lines = [
    ...times('straight').map(() => drawnLine(random, side, contrasts, 'straight')),
    ...times('curved').map(() => drawnLine(random, side, contrasts, 'curved')),
    ...times('bank').map(() => drawnLine(random, side, contrasts, 'bank')),
    ...times('trackway').flatMap(() => trackway(random, side, contrasts)),
    ...times('enclosure').map((i) => enclosure(random, side, contrasts, i % 2 === 1)),
  ]
  for (const line of [...others, ...lines])
    if (line.sort !== 'field edge') drawPolyline(canvas, line, line.contrast * unitLevel)
  for (let i = 0; i < canvas.values.length; i++) canvas.values[i] = 120 + 12 * canvas.values[i]!
  return { raster: { columns: side, rows: side, values: canvas.values }, lines, others }
}

function placed(random: Random, side: number): [number, number] {
  return [uniform(random, 0.06, 0.94) * side, uniform(random, 0.06, 0.94) * side]
}

function drawnLine(
  random: Random,
  side: number,
  contrasts: Contrasts,
  sort: 'straight' | 'curved' | 'bank',
): DrawnLine {
  const length = 40 * 10 ** unit(random)
  const place = placed(random, side)
  const bearing = uniform(random, 0, Math.PI)
  const bent = sort === 'curved' || (sort === 'bank' && unit(random) < 0.4)
  const xy = bent ? curved(random, place, bearing, length) : straight(place, bearing, length)
  const contrast = uniform(random, contrasts[0], contrasts[1]) * (sort === 'bank' ? 1 : -1)
  return { sort, xy, width: uniform(random, 1.8, 5), contrast, gaps: gapsIn(random, xy) }
}

/** In every second one a gap, or two, of 8 to 30 pixels. */
function gapsIn(random: Random, xy: readonly number[]): [number, number][] {
  const length = lengthOf(xy)
  if (unit(random) < 0.5) return []
  return Array.from({ length: length > 150 ? 2 : 1 }, (): [number, number] => {
    const from = uniform(random, 0.2, 0.7) * length
    return [from, from + Math.min(0.25 * length, uniform(random, 8, 30))]
  })
}

function trackway(random: Random, side: number, contrasts: Contrasts): DrawnLine[] {
  const { xy, contrast, width } = drawnLine(
    random,
    side,
    contrasts,
    unit(random) < 0.5 ? 'straight' : 'curved',
  )
  const apart = uniform(random, 12, 26)
  return [apart / 2, -apart / 2].map((off): DrawnLine => {
    const own = beside(xy, off)
    return { sort: 'trackway', xy: own, width, contrast, gaps: gapsIn(random, own) }
  })
}

/** A broken one lacks a quarter of its outline, beginning anywhere. */
function enclosure(random: Random, side: number, contrasts: Contrasts, broken: boolean): DrawnLine {
  const [long, broad] = [uniform(random, 35, 150), uniform(random, 0.5, 1)]
  const xy = rectangle(placed(random, side), uniform(random, 0, Math.PI), {
    long,
    broad: Math.max(25, long * broad),
    corner: uniform(random, 2, 6),
  })
  const length = lengthOf(xy)
  const from = uniform(random, 0, 0.75) * length
  const gaps = broken ? ([[from, from + length / 4]] as const) : []
  const contrast = -uniform(random, contrasts[0] + 0.2, contrasts[1])
  return { sort: 'enclosure', xy, width: uniform(random, 1.8, 4.5), contrast, gaps }
}

function fieldEdge(random: Random, canvas: Canvas, unitLevel: number): DrawnLine {
  const [x, y] = placed(random, canvas.side)
  const bearing = uniform(random, 0, Math.PI)
  const contrast = uniform(random, 0.8, 2.5) * (unit(random) < 0.5 ? 1 : -1)
  drawStep(canvas, { x, y, bearing }, contrast * unitLevel)
  return { sort: 'field edge', xy: straight([x, y], bearing, 3 * canvas.side), width: 1, contrast, gaps: [] }
}

/** Pairs of wheel lines at even distances, 7 to 11 pixels from wheel to wheel. */
function tramlines(random: Random, side: number): DrawnLine[] {
  const bearing = uniform(random, 0, Math.PI)
  const middle = straight(placed(random, side), bearing, uniform(random, 0.4, 1) * side)
  const [apart, gauge] = [uniform(random, 60, 110), uniform(random, 7, 11)]
  const width = uniform(random, 1.8, 3)
  const contrast = -uniform(random, 0.6, 1.5)
  return [-3, -2, -1, 0, 1, 2, 3].flatMap((pair) =>
    [-gauge / 2, gauge / 2].map(
      (wheel): DrawnLine => ({
        sort: 'tramlines',
        xy: beside(middle, pair * apart + wheel),
        width,
        contrast,
        gaps: [],
      }),
    ),
  )
}
