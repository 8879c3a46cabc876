import type { Placing, PlacingReply } from '#contract'
import { SurveyError } from '#core/faults'
import { fitAffine, fitProjective } from '#core/imagery'
import type { StoredLayer, SurveyFile } from '#store'

/**
 * Places a picture by points known in it and on the ground, in the survey's grid. What its file said of its place is put aside; Undo brings
 * it back. Faults: SurveyError 'tie-points-weak'; 'no-track' while the survey has no grid.
 */
export function placeByTiePoints(
  survey: SurveyFile,
  layer: StoredLayer,
  { method, points }: Placing,
): PlacingReply {
  if (survey.identity().gridEpsg === null) {
    throw new SurveyError(
      'no-track',
      'The survey has no grid yet, so there is no ground to place a picture on: bring in a track or an area first, or choose a grid.',
    )
  }
  const { placement, residualsM, rmsM } = method === 'affine' ? fitAffine(points) : fitProjective(points)
  survey.changeLayer(
    layer.id,
    {
      placing: placement,
      placedBy: 'tie-points',
      tiePoints: points,
      expectedErrorM: rmsM,
      epsg: null,
      systemText: null,
    },
    `placing of ${layer.name}`,
  )
  return { residualsM, rmsM }
}
