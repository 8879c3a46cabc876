import type { BearingWishes } from '#contract'
import { SurveyError } from '#core/faults'
import type { LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { brightnessIn } from '../marks/layer-raster.ts'
import type { BearingRaster } from './read-bearing.ts'

/** A layer of the survey to read a bearing from: pictures as they are, terrain models by their relief for plough lines and by their heights for contours. */
export function bearingRaster(
  layers: Pick<LayersOfSurvey, 'list' | 'ground' | 'heights' | 'whole'>,
  id: number,
  by: BearingWishes['by'],
  signal?: AbortSignal,
): BearingRaster {
  const layer = layers.list().find((each) => each.id === id)
  if (!layer)
    throw new SurveyError('not-found', `There is no layer ${id} in the survey; it may have been removed.`)
  const { name, kind, tileM } = layer
  if (by === 'contour' && kind === 'image') {
    const sentence = `${name} is a picture and has no contours; choose a terrain model.`
    throw new SurveyError('setting-out-of-range', sentence)
  }
  if (by === 'contour') return { name, pixelM: tileM, values: (frame) => layers.heights(id, frame) }
  const view = kind === 'terrain' ? ({ view: 'local-relief' } as const) : ({ view: 'as-is' } as const)
  return {
    name,
    pixelM: tileM,
    // What is not yet whole is blurred, and plough lines are the first thing to go.
    values: async (frame) => {
      await layers.whole(id)
      return brightnessIn(layers, { id, view }, frame, signal)
    },
  }
}
