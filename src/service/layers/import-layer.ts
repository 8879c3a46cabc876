import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import type { Added, ImportedFile } from '#contract'
import { type FileFault, isSurveyError } from '#core/faults'
import type { LayerFacts, LayerFile, StoredLayer, SurveyFile } from '#store'
import type { WorkOptions } from '#work'
import { surveyGrid } from '../ground.ts'
import { gridForLayer } from './edit-layer.ts'
import { joinTiles } from './join-tiles.ts'
import type { LayerCache } from './layer-cache.ts'
import { layerFile, layersFolder, layerWith, movedInto, whereIs } from './layer-files.ts'
import { layerPlace } from './layer-place.ts'
import { type LookedRaster, lookedRaster } from './looked-raster.ts'
import type { RasterKind } from './raster-kind.ts'
import {
  readSystem,
  readWorld,
  type Sidecar,
  sidecarsIn,
  systemFileOf,
  turned,
  worldFileOf,
} from './sidecars.ts'
import { tooFar } from './too-far.ts'

export interface LayerImportOptions extends WorkOptions {
  readonly cache: LayerCache
  /** True for a file that may be moved: it is then stored in the folder of layers beside the survey. Else it stays where it is. */
  readonly move: boolean
  /** Files given together with it that can be read, and the names of all that were. */
  readonly together: readonly Sidecar[]
  readonly names: readonly string[]
  /** The system of rasters that name none. */
  readonly epsg?: number
}

/** Where world files and .prj files wait for their picture. */
export const waitingFolder = (surveyPath: string): string => path.join(layersFolder(surveyPath), 'waiting')

type RasterOnly = Exclude<RasterKind, 'world-file' | 'coordinate-system'>

const nothing: Added = { tracks: 0, fixes: 0, findspots: 0, areas: 0, finds: 0, layers: 0, photos: 0 }

export interface LayerReply extends ImportedFile {
  /** The layer that came of it, or that it was already. */
  readonly layer: StoredLayer | null
}

/**
 * Brings an image or terrain model into a survey, by reference. The same bytes again change nothing, but where the file that the survey
 * knows is gone, this one takes its place.
 * Faults: SurveyError for a file of which nothing can be shown; those of the disk; 'cancelled'.
 */
export async function importRaster(
  survey: SurveyFile,
  kind: RasterOnly,
  name: string,
  file: string,
  options: LayerImportOptions,
): Promise<LayerReply> {
  const looked = await lookedRaster(kind, name, file, options.cache, options)
  const known = layerWith(survey.layers(), looked.sha256)
  if (known) return again(survey, known, kind, name, file, looked, options)
  const stored = options.move ? movedInto(layersFolder(survey.path), file, name) : file
  const placed = placedLayer(survey, name, stored, looked, options)
  const added = survey.addLayer(placed.layer)
  const joined = looked.kind === 'terrain' ? joinTiles(survey, added, options.names, options.cache) : null
  if (!joined) return reply(survey, added, kind, name, looked.sha256, placed.faults, 1)
  const text = `${name} abuts ${joined.to}, which came at once with it, and was joined to it: they are one layer.`
  const faults: FileFault[] = [...placed.faults, { line: null, code: 'assumed', text }]
  return reply(survey, joined.layer, kind, name, looked.sha256, faults, 0)
}

function reply(
  survey: SurveyFile,
  layer: StoredLayer,
  kind: RasterKind,
  name: string,
  sha256: string,
  faults: readonly FileFault[],
  layers: number,
): LayerReply {
  const grid = surveyGrid(survey)
  const bounds = (grid && layerPlace(layer, grid)?.bounds) ?? null
  const added = { ...nothing, layers }
  return {
    name,
    sha256,
    kind: kindWords[kind],
    added,
    alreadyThere: false,
    faults: [...faults],
    bounds,
    layer,
  }
}

const kindWords: Record<RasterKind, string> = {
  jpeg: 'jpeg',
  png: 'png',
  tiff: 'geotiff',
  'ascii-grid': 'ascii-grid',
  'world-file': 'world-file',
  'coordinate-system': 'coordinate-system',
}

/** A file that is in the survey already. */
function again(
  survey: SurveyFile,
  known: StoredLayer,
  kind: RasterOnly,
  name: string,
  file: string,
  { sha256 }: LookedRaster,
  { move }: LayerImportOptions,
): LayerReply {
  const old = known.files.find((each) => each.role === 'raster' && each.sha256 === sha256)!
  const lost = old.originalId === null && whereIs(survey.path, old) === null
  let layer = known
  if (lost) {
    const place = move ? movedInto(layersFolder(survey.path), file, name) : file
    const found = { ...layerFile(survey.path, place, { ...old, name }), ...frame(old) }
    const files = known.files.map((each) => (each === old ? found : each))
    layer = survey.changeLayer(known.id, { files }, `finding of ${known.name}`)
  }
  return { ...reply(survey, layer, kind, name, sha256, [], 0), alreadyThere: true }
}

const frame = ({ firstColumn, firstRow }: LayerFile) => ({ firstColumn, firstRow })

/** The layer as it is to be stored, and what to tell of it. */
function placedLayer(
  survey: SurveyFile,
  name: string,
  stored: string,
  looked: LookedRaster,
  options: LayerImportOptions,
): { layer: Parameters<SurveyFile['addLayer']>[0]; faults: FileFault[] } {
  const sides = sidesOf(survey, name, stored, looked, options)
  const { kind, columns, rows, bands, sampleType, noData, orientation, takenOn, sha256, size } = looked
  const facts: LayerFacts = {
    ...{ name, kind, takenOn, columns, rows, bands, sampleType, noData, orientation },
    nearInfraredBand: null,
    epsg: sides.epsg,
    systemText: sides.systemText,
    placing: sides.placing,
    placedBy: sides.placedBy,
    tiePoints: [],
    expectedErrorM: null,
    attribution: null,
  }
  const files = [layerFile(survey.path, stored, { role: 'raster', name, sha256, size }), ...sides.files]
  const { gridEpsg, faults } = checkedPlace(survey, facts)
  const all = [...looked.faults, ...sides.faults, ...faults]
  return { layer: { ...facts, files, ...(gridEpsg === null ? {} : { gridEpsg }) }, faults: all }
}

interface Sides extends Pick<LayerFacts, 'epsg' | 'systemText' | 'placing' | 'placedBy'> {
  readonly files: readonly LayerFile[]
  readonly faults: readonly FileFault[]
}

/** Where the raster lies, by itself or by the files beside it. */
function sidesOf(
  survey: SurveyFile,
  name: string,
  stored: string,
  looked: LookedRaster,
  options: LayerImportOptions,
): Sides {
  const beside = options.move ? sidecarsIn(waitingFolder(survey.path)) : sidecarsIn(path.dirname(stored))
  const world = looked.lines ? null : worldFor(name, options.together, beside)
  const system =
    looked.epsg !== null || looked.systemText !== null ? null : systemFor(name, options.together, beside)
  const said = world?.own ? readWorld(world.own.sidecar) : null
  const lines = looked.lines ?? said?.lines ?? null
  const placing = lines && turned(lines, looked.orientation, looked.storedColumns, looked.storedRows)
  const stated = system ? readSystem(system.sidecar) : null
  const epsg = looked.epsg ?? stated?.epsg ?? null
  const systemText = looked.systemText ?? stated?.systemText ?? null
  const unsaid = epsg === null && systemText === null ? (options.epsg ?? null) : epsg
  const used = [
    ...(world?.own ? [{ ...world.own, role: 'world' as const }] : []),
    ...(system ? [{ ...system, role: 'system' as const }] : []),
  ]
  return {
    placing,
    epsg: unsaid,
    systemText,
    placedBy: looked.lines ? 'file' : placing ? 'world-file' : null,
    files: used.map(({ sidecar, role }) =>
      keptSidecar(survey.path, sidecar, role, options.move ? stored : null),
    ),
    faults: [
      ...(world?.faults ?? []),
      ...used.filter(({ asked }) => !asked).map(({ sidecar }) => besideNote(name, sidecar.name)),
      ...(said?.faults ?? []),
      ...(stated?.faults ?? []),
      ...saysTooLittle(name, placing !== null, unsaid !== null || systemText !== null),
    ],
  }
}

/** A sidecar, and whether it was given with the picture or only lies beside it. */
interface Chosen {
  readonly sidecar: Sidecar
  readonly asked: boolean
}

function worldFor(
  name: string,
  together: readonly Sidecar[],
  beside: readonly Sidecar[],
): { own: Chosen | null; faults: readonly FileFault[] } {
  const given = worldFileOf(name, together)
  if (given.own) return { own: { sidecar: given.own, asked: true }, faults: [] }
  const { own } = worldFileOf(name, beside)
  return { own: own && { sidecar: own, asked: false }, faults: given.faults }
}

function systemFor(name: string, together: readonly Sidecar[], beside: readonly Sidecar[]): Chosen | null {
  const given = systemFileOf(name, together)
  if (given) return { sidecar: given, asked: true }
  const own = systemFileOf(name, beside)
  return own && { sidecar: own, asked: false }
}

const besideNote = (name: string, sidecar: string): FileFault => ({
  line: null,
  code: 'assumed',
  text: `${sidecar}, which was found beside ${name}, was taken to say where it lies.`,
})

function saysTooLittle(name: string, placed: boolean, system: boolean): FileFault[] {
  if (!placed) {
    const text = `${name} does not say where it lies: bring its world file in too, or place it on the map by three or more tie points.`
    return [{ line: null, code: 'missing-part', text }]
  }
  if (system) return []
  const text = `${name} says where it lies, but not in which coordinate system: bring its .prj file in too, or choose the system by its EPSG code. Until then it is not shown.`
  return [{ line: null, code: 'unknown-system', text }]
}

/** A sidecar as a file of the layer; moved to stand beside its picture, under the picture's name there, where that is in the folder of layers. */
export function keptSidecar(
  surveyPath: string,
  { name, file }: Sidecar,
  role: LayerFile['role'],
  picture: string | null,
): LayerFile {
  const bytes = readFileSync(file)
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const target = picture && `${path.parse(picture).name}${path.extname(name)}`
  const place = target ? movedInto(path.dirname(picture), file, target) : file
  return layerFile(surveyPath, place, { role, name, sha256, size: bytes.length })
}

/** Whether the ground that a layer says it lies on can be: in the survey's grid, and not a day's journey from what else is in the survey. */
function checkedPlace(
  survey: SurveyFile,
  facts: LayerFacts,
): { gridEpsg: number | null; faults: readonly FileFault[] } {
  if (facts.placing === null || (facts.epsg === null && facts.systemText === null)) {
    return { gridEpsg: null, faults: [] }
  }
  try {
    const epsg = gridForLayer(survey, facts)
    const far = tooFar(survey, facts)
    return { gridEpsg: surveyGrid(survey) ? null : epsg, faults: far ? [far] : [] }
  } catch (error) {
    if (!isSurveyError(error)) throw error
    return { gridEpsg: null, faults: [{ line: null, code: error.code, text: error.message }] }
  }
}
