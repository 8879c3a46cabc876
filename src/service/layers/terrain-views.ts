import { createHash } from 'node:crypto'
import { type LayerView, terrainViews } from '#contract'
import { SurveyError } from '#core/faults'
import type { GreyView, MeasuredView } from '#core/relief'
import { type RasterTurn, toRaster } from './terrain-light.ts'

export type TerrainViewName = (typeof terrainViews)[number]

/** What a view of a terrain is, all numbers filled in. Usual ones: common practice, but for the radius, which is ours. */
const usual = { azimuth: 315, altitude: 45, exaggeration: 1, radiusM: 10, directions: 16, cutPercent: 2 }
/** A coarse model is looked at over so many cells at least, where no radius is given. */
const leastCells = 5

/** Farthest that a view may look, cells: its cost grows with that. */
const mostCells = 400

export type FilledView = typeof usual & { readonly view: TerrainViewName }

/** Faults: SurveyError 'setting-out-of-range'; RangeError for a view of images. */
export function filledView(view: LayerView, { cellX, cellY }: RasterTurn): FilledView {
  if (!(terrainViews as readonly string[]).includes(view.view)) {
    throw new RangeError(`a terrain model has no view ${view.view}`)
  }
  const given = Object.fromEntries(Object.entries(view).filter(([, value]) => value !== undefined))
  const [cell, longest] = [Math.min(cellX, cellY), Math.max(cellX, cellY)]
  const radiusM = Math.min(mostCells * cell, Math.max(usual.radiusM, leastCells * longest))
  const filled = { ...usual, radiusM, ...given } as FilledView
  within('altitude', filled.altitude, 0, 90)
  within('exaggeration', filled.exaggeration, 0.01, 100)
  within('radius', filled.radiusM, longest, mostCells * cell)
  within('cut at either end', filled.cutPercent, 0, 49)
  if (!(filled.directions % 2 === 0 && filled.directions >= 4 && filled.directions <= 64)) {
    const sentence = `Directions are an even number from 4 to 64, not ${filled.directions}.`
    throw new SurveyError('setting-out-of-range', sentence)
  }
  return filled
}

function within(what: string, value: number, least: number, most: number): void {
  if (value >= least && value <= most) return
  const [low, high] = [least, most].map((number) => Number(number.toPrecision(6)))
  throw new SurveyError(
    'setting-out-of-range',
    `The ${what} must be between ${low} and ${high}, not ${value}.`,
  )
}

/** A view whose pixels follow from their next neighbours: it is worked out tile by tile, at once. */
export function nearView(filled: FilledView, turn: RasterTurn): GreyView | MeasuredView | null {
  const { view, altitude: altitudeDeg, exaggeration: zFactor } = filled
  const edges = 'fill'
  if (view === 'hillshade') {
    return { view, azimuthDeg: toRaster(filled.azimuth, turn), altitudeDeg, zFactor, edges }
  }
  if (view === 'multi-hillshade') return { view, altitudeDeg, zFactor, edges }
  if (view === 'slope') return { view, unit: 'degrees', zFactor, edges }
  if (view === 'aspect') return { view, edges }
  return null
}

/** The pictures of the whole terrain that a view is painted from, worked out once and kept: one, or two for a blend. */
export function farViews(filled: FilledView): MeasuredView[] {
  const { view, radiusM, directions, exaggeration: zFactor } = filled
  const edges = 'fill'
  const relief: MeasuredView = { view: 'local-relief', shape: 'gaussian', radiusM, edges }
  const sky: MeasuredView = { view: 'sky-view', radiusM, directions, zFactor, edges }
  if (view === 'local-relief') return [relief]
  if (view === 'blend') return [sky, relief]
  if (view === 'sky-view' || view === 'openness-up' || view === 'openness-down') return [{ ...sky, view }]
  return []
}

export const viewWords: Record<TerrainViewName, string> = {
  hillshade: 'hillshade',
  'multi-hillshade': 'hillshade from several sides',
  slope: 'slope',
  aspect: 'aspect',
  'local-relief': 'local relief',
  'sky-view': 'sky-view',
  'openness-up': 'openness upwards',
  'openness-down': 'openness downwards',
  blend: 'blend',
}

/** A name for one picture of a whole terrain, by all that it follows from. */
export function farPictureName(view: MeasuredView, cellX: number, cellY: number): string {
  const all = createHash('sha256').update(JSON.stringify([view, cellX.toFixed(6), cellY.toFixed(6)]))
  return `${view.view}-${all.digest('hex').slice(0, 12)}`
}
