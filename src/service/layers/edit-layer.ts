import type { LayerEdit } from '#contract'
import { SurveyError } from '#core/faults'
import { gridFor, isPlanarGrid, type PlanarGrid, planarGrid } from '#core/geodesy'
import { groundAt } from '#core/imagery'
import type { StoredLayer, SurveyFile } from '#store'
import { ostn15 } from '#work'
import { surveyGrid } from '../ground.ts'
import { knownSystem } from './ground-system.ts'
import { layerPlace } from './layer-place.ts'
import type { PlacedFacts } from './pixel-map.ts'

/**
 * Changes what is known of a layer. A system is given to a layer whose file says where its pixels lie but not in which system, or says it
 * wrongly. Faults: SurveyError 'unknown-system', 'outside-grid', 'setting-out-of-range', 'mixed-grids'.
 */
export function editLayer(survey: SurveyFile, layer: StoredLayer, edit: LayerEdit): StoredLayer {
  const { epsg, nearInfraredBand, ...plain } = edit
  if (nearInfraredBand && nearInfraredBand > layer.bands) {
    const sentence = `${layer.name} has ${layer.bands} bands, so number ${nearInfraredBand} cannot be its near infrared.`
    throw new SurveyError('setting-out-of-range', sentence)
  }
  if (edit.kind !== undefined) checkKind(layer, edit.kind)
  const patch = {
    ...plain,
    ...(nearInfraredBand === undefined ? {} : { nearInfraredBand }),
    ...(epsg === undefined ? {} : systemPatch(survey, layer, epsg)),
  }
  return survey.changeLayer(layer.id, patch, `change of layer ${layer.name}`)
}

/** Heights are one band; a picture has 8 or 16 bits a colour. */
function checkKind({ name, bands, sampleType }: StoredLayer, kind: StoredLayer['kind']): void {
  const refused =
    kind === 'terrain'
      ? bands !== 1 && `has ${bands} bands, and a terrain model one`
      : sampleType !== 'uint8' &&
        sampleType !== 'uint16' &&
        `has values of the kind ${sampleType}, and a picture whole numbers of 8 or 16 bits`
  if (refused) throw new SurveyError('setting-out-of-range', `${name} ${refused}; it stays what it is.`)
}

function systemPatch(survey: SurveyFile, layer: StoredLayer, epsg: number) {
  if (layer.placing === null) {
    const sentence = `${layer.name} says nothing of where it lies, so a coordinate system does not place it; give its world file, or tie points.`
    throw new SurveyError('unknown-system', sentence)
  }
  if (layer.placedBy === 'tie-points') {
    const sentence = `${layer.name} was placed by tie points in the survey's grid; it has no other system.`
    throw new SurveyError('setting-out-of-range', sentence)
  }
  const grid = gridForLayer(survey, { ...layer, epsg, systemText: null })
  return { epsg, systemText: null, ...(surveyGrid(survey) ? {} : { gridEpsg: grid }) }
}

/**
 * The code of the grid in which a layer with a system can be worked with: the survey's, or for a survey without one that of the layer's
 * own place. Faults: as `gridAtLayer`.
 */
export const gridForLayer = (survey: SurveyFile, layer: PlacedFacts & { readonly name: string }): number =>
  gridAtLayer(layer, surveyGrid(survey)).epsg

/**
 * The grid that is known, or where there is none that of the layer's own place.
 * Faults: SurveyError 'unknown-system', 'outside-grid' where the layer does not lie in it.
 */
export function gridAtLayer(
  layer: PlacedFacts & { readonly name: string },
  known: PlanarGrid | null,
): PlanarGrid {
  const { epsg, systemText, placing, columns, rows, name } = layer
  const system = knownSystem(epsg, systemText)
  if (!system || !placing) {
    const said = epsg === null ? 'its system' : `EPSG:${epsg}`
    throw new SurveyError(
      'unknown-system',
      `${name}: ${said} is not a coordinate system that is known here; give it in the national grid, in UTM or in WGS84.`,
    )
  }
  const middle = Float64Array.from(groundAt(placing, columns / 2, rows / 2))
  const [x, y] = [...middle]
  if (system.convert) system.convert(middle, middle)
  const grid = known ?? planarGrid(chosen(system.epsg, middle), ostn15())
  if (layerPlace(layer, grid)) return grid
  throw new SurveyError(
    'outside-grid',
    `${name} has its middle at ${x}, ${y}, which in ${system.name} lies outside ${grid.name}: that is not its coordinate system, or it is of another country.`,
  )
}

function chosen(epsg: number, middle: Float64Array): number {
  if (isPlanarGrid(epsg)) return epsg
  const [lon, lat] = middle as unknown as [number, number]
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 360)) {
    throw new SurveyError(
      'outside-grid',
      `${lat}, ${lon} is no place on Earth; the coordinate system is not the right one.`,
    )
  }
  return gridFor(lon, lat, ostn15())
}
