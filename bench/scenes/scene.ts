import type { Raster } from '#core/marks'
import { type Random, seededRandom, uniform, unit, wholeBelow } from '#core/random'
import { add, blankCanvas, blurred, type Canvas, grain, spreadOf } from './canvas.ts'
import {
  type DrawnRing,
  drawBlob,
  drawBoundary,
  drawDisc,
  drawLine,
  drawRing,
  drawTramlines,
} from './features.ts'

/**
 * Synthetic scenes with rings whose places are known. All are drawn by this program alone; how a detector does on them
 * says how it does on ground of this make and nothing about any real field.
 *
 * plain     grain of several sizes; 40 dark rings, 40 blobs, 3 sets of tramlines, 8 field edges.
 * ploughed  the same, and furrows over the whole ground, whose strength changes from place to place.
 * littered  the same as plain, and tree crowns in clumps, round ponds with a bright rim, lettering.
 * rough     grain whose strength differs threefold between fields, with lumps of brightness between.
 */
export type SceneKind = 'plain' | 'ploughed' | 'littered' | 'rough'

export const sceneKinds: readonly SceneKind[] = ['plain', 'ploughed', 'littered', 'rough']

export interface Scene {
  readonly kind: SceneKind
  readonly seed: number
  readonly raster: Raster
  readonly rings: readonly DrawnRing[]
}

export interface SceneSize {
  readonly side: number
  readonly rings: number
  readonly broken: number
  /** Without any confuser or ring where false: bare ground. */
  readonly confusers: boolean
}

const fullScene: SceneSize = { side: 2000, rings: 40, broken: 16, confusers: true }

/** Ring diameters asked for in every scene, pixels: from a little under the smallest drawn to a little over the largest. */
export const sceneDiameters = { min: 16, max: 92 }
const radii = [9, 42] as const
const contrasts = [1.6, 3.8] as const

export function makeScene(kind: SceneKind, seed: number, size: SceneSize = fullScene): Scene {
  const random = seededRandom(seed)
  const { side } = size
  const canvas = blankCanvas(side)
  drawGround(random, canvas, kind)
  const unitLevel = grainLevel(canvas)
  const rings = ringPlaces(random, size)
  if (size.confusers) drawConfusers(random, canvas, { kind, rings, unitLevel })
  for (const ring of rings) drawRing(canvas, ring, -ring.contrast * unitLevel)
  for (let i = 0; i < canvas.values.length; i++) canvas.values[i] = 120 + 12 * canvas.values[i]!
  return { kind, seed, raster: { columns: side, rows: side, values: canvas.values }, rings }
}

/** Contrast is in units of what the eye sees as grain: the standard deviation of the ground less its own Gaussian of 20 pixels. */
export function grainLevel(canvas: Canvas): number {
  const flat = blankCanvas(canvas.side)
  add(flat, canvas, 1)
  add(flat, blurred(canvas, 20), -1)
  return spreadOf(flat.values)
}

/** The bare ground of a kind of scene. */
export function drawGround(random: Random, canvas: Canvas, kind: SceneKind): void {
  const { side } = canvas
  const sizes = [
    [0, 0.55],
    [0.9, 0.6],
    [2.5, uniform(random, 0.2, 0.45)],
    [7, uniform(random, 0.15, 0.4)],
    [25, 0.6],
    [90, 1.2],
  ] as const
  for (const [sigma, share] of sizes) add(canvas, grain(random, side, sigma), share)
  if (kind === 'ploughed') {
    const strength = grain(random, side, 60)
    const bearing = uniform(random, 0, Math.PI)
    const wave = uniform(random, 7, 14)
    const wobble = grain(random, side, 40)
    for (let row = 0; row < side; row++) {
      for (let column = 0; column < side; column++) {
        const i = row * side + column
        const off = row * Math.cos(bearing) - column * Math.sin(bearing) + 3 * wobble.values[i]!
        canvas.values[i]! += (0.5 + 0.25 * strength.values[i]!) * Math.sin((2 * Math.PI * off) / wave)
      }
    }
  }
  if (kind === 'rough') {
    const field = grain(random, side, 80)
    const lumps = grain(random, side, 4)
    for (let i = 0; i < canvas.values.length; i++) {
      const times = field.values[i]! > 0.4 ? 1.6 : field.values[i]! < -0.4 ? 0.55 : 1
      canvas.values[i] = canvas.values[i]! * times + 0.5 * Math.max(0, lumps.values[i]! - 1)
    }
  }
}

function ringPlaces(random: Random, { side, rings, broken }: SceneSize): DrawnRing[] {
  const placed: DrawnRing[] = []
  while (placed.length < rings) {
    const radius = radii[0] * (radii[1] / radii[0]) ** unit(random)
    const edge = radius + 10
    const [x, y] = [uniform(random, edge, side - edge), uniform(random, edge, side - edge)]
    const width = Math.min(uniform(random, 2, 5), radius * 0.35)
    const contrast = uniform(random, contrasts[0], contrasts[1])
    const ellipticity = uniform(random, 0.93, 1)
    const turn = uniform(random, 0, Math.PI)
    if (placed.some((other) => Math.hypot(other.x - x, other.y - y) < other.radius + radius + 8)) continue
    const missing = placed.length < broken ? uniform(random, 0.3, 0.5) : 0
    placed.push({ x, y, radius, width, contrast, missing, gaps: gapsOf(random, missing), ellipticity, turn })
  }
  return placed
}

/** One gap or two, together `missing` of the circle. */
function gapsOf(random: Random, missing: number): DrawnRing['gaps'] {
  if (missing === 0) return []
  const total = missing * 2 * Math.PI
  const from = uniform(random, 0, 2 * Math.PI)
  if (unit(random) < 0.5) return [{ from, length: total }]
  const first = total * uniform(random, 0.3, 0.7)
  const between = uniform(random, 0.25, 0.75) * (2 * Math.PI - total)
  return [
    { from, length: first },
    { from: from + first + between, length: total - first },
  ]
}

interface Drawing {
  readonly kind: SceneKind
  readonly rings: readonly DrawnRing[]
  readonly unitLevel: number
}

function clearPlace(random: Random, side: number, { rings }: Drawing, reach: number): [number, number] {
  for (;;) {
    const [x, y] = [uniform(random, 10, side - 10), uniform(random, 10, side - 10)]
    if (rings.every((ring) => Math.hypot(ring.x - x, ring.y - y) > ring.radius + reach + 6)) return [x, y]
  }
}

function drawConfusers(random: Random, canvas: Canvas, drawing: Drawing): void {
  const { side } = canvas
  const { kind, unitLevel } = drawing
  const share = (side / fullScene.side) ** 2
  for (let i = 0; i < Math.round(40 * share); i++) {
    const sigma = uniform(random, 3, 14)
    const [x, y] = clearPlace(random, side, drawing, 2 * sigma)
    drawBlob(canvas, [x, y, sigma], -uniform(random, 0.8, 2.4) * unitLevel)
  }
  for (let i = 0; i < 3; i++) drawTramlines(random, canvas, -uniform(random, 0.6, 1.5) * unitLevel)
  for (let i = 0; i < 8; i++) drawBoundary(random, canvas, -uniform(random, 0.8, 2.5) * unitLevel)
  if (kind !== 'littered') return
  for (let i = 0; i < Math.round(60 * share); i++) {
    const radius = uniform(random, 5, 16)
    const [x, y] = clearPlace(random, side, drawing, radius)
    drawDisc(canvas, [x, y, radius], -uniform(random, 1.5, 4) * unitLevel, uniform(random, 0.6, 2))
  }
  for (let i = 0; i < Math.round(8 * share); i++) {
    const radius = uniform(random, 12, 36)
    const [x, y] = clearPlace(random, side, drawing, radius + 4)
    const level = uniform(random, 1.5, 4) * unitLevel
    drawDisc(canvas, [x, y, radius + 2], level, 1)
    drawDisc(canvas, [x, y, radius], -2 * level, 1)
  }
  for (let i = 0; i < Math.round(12 * share); i++)
    drawLettering(random, canvas, clearPlace(random, side, drawing, 60), 3 * unitLevel)
}

/** Strokes of the sizes and shapes of letters, an O among them now and then. */
function drawLettering(
  random: Random,
  canvas: Canvas,
  [x, y]: readonly [number, number],
  level: number,
): void {
  const height = uniform(random, 8, 14)
  for (let letter = 0; letter < 8; letter++) {
    const left = x + (letter - 4) * height * 0.8
    for (let stroke = 0; stroke < 2 + wholeBelow(random, 3); stroke++) {
      const place = {
        x: left + uniform(random, -0.3, 0.3) * height,
        y: y + uniform(random, -0.4, 0.4) * height,
      }
      const bearing = (wholeBelow(random, 4) * Math.PI) / 4
      drawLine(canvas, { ...place, bearing, reach: height * 0.4, width: 1.6 }, -level)
    }
  }
}
