import { createHash } from 'node:crypto'
import { readFileSync, rmSync } from 'node:fs'
import path from 'node:path'
import type { Added } from '#contract'
import { type FileFault, isSurveyError } from '#core/faults'
import type { LayerEdit, StoredLayer, SurveyFile } from '#store'
import { surveyGrid } from '../ground.ts'
import { gridForLayer } from './edit-layer.ts'
import { keptSidecar, type LayerReply, waitingFolder } from './import-layer.ts'
import { layerWith, movedInto, rastersOf, whereIs } from './layer-files.ts'
import { layerPlace } from './layer-place.ts'
import { readSystem, readWorld, type Sidecar, systemFileOf, turned, worldFileOf } from './sidecars.ts'

const nothing: Added = { tracks: 0, fixes: 0, findspots: 0, areas: 0, finds: 0, layers: 0, photos: 0 }

type SidecarKind = 'world-file' | 'coordinate-system'

/**
 * Takes a world file or .prj file that came by itself: it completes the layer of its name that lacks it. Where there is none yet, a file
 * that may be moved waits for it in the folder of layers; another must be given together with its picture.
 */
export function importSidecar(
  survey: SurveyFile,
  kind: SidecarKind,
  sidecar: Sidecar,
  { move, together }: { readonly move: boolean; readonly together: readonly string[] },
): LayerReply {
  const { name, file } = sidecar
  const sha256 = createHash('sha256').update(readFileSync(file)).digest('hex')
  const role = kind === 'world-file' ? 'world' : 'system'
  const base = { name, sha256, kind, added: nothing, alreadyThere: false, bounds: null, layer: null }
  const known = layerWith(survey.layers(), sha256, role)
  const lacking = survey.layers().find((layer) => lacks(layer, kind, sidecar))
  // One that its picture took with it when both were given at once is no news either.
  const taken = known !== null && belongs(known, kind, sidecar, together)
  // Pictures of one provider often have .prj files with the same bytes: each still goes with its own picture.
  const awaited = move && isAwaited(kind, sidecar, together)
  if (known && !lacking && (taken || !awaited)) return { ...base, alreadyThere: !taken, faults: [] }
  const read = kind === 'world-file' ? readWorld(sidecar) : readSystem(sidecar)
  const usable = 'lines' in read ? read.lines !== null : read.epsg !== null || read.systemText !== null
  if (!usable) return { ...base, kind: null, faults: [...read.faults] }
  if (lacking) return completed(survey, lacking, kind, sidecar, move, base)
  if (move) wait(survey.path, sidecar)
  if (awaited) return { ...base, faults: [...read.faults] }
  const what = kind === 'world-file' ? 'places a picture' : 'states the coordinate system of a raster'
  const how = move ? 'it waits for it' : 'give both together'
  const text = `${name} ${what} of the same name, and there is none in the survey that needs it: ${how}.`
  return { ...base, faults: [...read.faults, { line: null, code: 'missing-part', text }] }
}

/** Whether the layer came in at once with this file of its name. */
function belongs(
  layer: StoredLayer,
  kind: SidecarKind,
  sidecar: Sidecar,
  together: readonly string[],
): boolean {
  return rastersOf(layer).some(({ name }) => together.includes(name) && goesWith(kind, sidecar, name))
}

/** Whether a picture of its name is among the files given at once, and so will come. */
function isAwaited(kind: SidecarKind, sidecar: Sidecar, together: readonly string[]): boolean {
  return together.some((name) => name !== sidecar.name && goesWith(kind, sidecar, name))
}

function goesWith(kind: SidecarKind, sidecar: Sidecar, raster: string): boolean {
  return kind === 'world-file'
    ? worldFileOf(raster, [sidecar]).own !== null
    : systemFileOf(raster, [sidecar]) !== null
}

/** Whether a layer has the name of a sidecar and lacks what it says. */
function lacks(layer: StoredLayer, kind: SidecarKind, sidecar: Sidecar): boolean {
  const rasters = rastersOf(layer)
  const missing =
    kind === 'world-file'
      ? layer.placing === null
      : layer.epsg === null && layer.systemText === null && layer.placedBy !== 'tie-points'
  return missing && rasters.some(({ name }) => goesWith(kind, sidecar, name))
}

function wait(surveyPath: string, { name, file }: Sidecar): void {
  const folder = waitingFolder(surveyPath)
  // A later one of the same name is the better one.
  rmSync(path.join(folder, name), { force: true })
  movedInto(folder, file, name)
}

function completed(
  survey: SurveyFile,
  layer: StoredLayer,
  kind: SidecarKind,
  sidecar: Sidecar,
  move: boolean,
  base: Omit<LayerReply, 'faults'>,
): LayerReply {
  const [raster] = rastersOf(layer)
  const said: LayerEdit & { faults: readonly FileFault[] } =
    kind === 'world-file' ? placingBy(layer, sidecar) : systemBy(sidecar)
  const { faults: told, ...patch } = said
  const after = { ...layer, ...patch }
  const faults = [...told]
  let gridEpsg: number | null = null
  if (after.placing && (after.epsg !== null || after.systemText !== null)) {
    try {
      gridEpsg = gridForLayer(survey, after)
    } catch (error) {
      if (!isSurveyError(error)) throw error
      faults.push({ line: null, code: error.code, text: error.message })
    }
  } else faults.push(stillLacking(layer.name, after.placing !== null))
  const picture = move && raster ? whereIs(survey.path, raster) : null
  const file = keptSidecar(survey.path, sidecar, kind === 'world-file' ? 'world' : 'system', picture)
  const grid = surveyGrid(survey) === null && gridEpsg !== null ? { gridEpsg } : {}
  const files = [...layer.files, file]
  const changed = survey.changeLayer(
    layer.id,
    { ...patch, ...grid, files },
    `placing of ${layer.name} by ${sidecar.name}`,
  )
  const now = surveyGrid(survey)
  const bounds = (now && layerPlace(changed, now)?.bounds) ?? null
  return { ...base, bounds, layer: changed, faults }
}

function placingBy(layer: StoredLayer, sidecar: Sidecar): LayerEdit & { faults: readonly FileFault[] } {
  const { lines, faults } = readWorld(sidecar)
  const sideways = layer.orientation >= 5
  const [columns, rows] = sideways ? [layer.rows, layer.columns] : [layer.columns, layer.rows]
  return { placing: lines && turned(lines, layer.orientation, columns, rows), placedBy: 'world-file', faults }
}

function systemBy(sidecar: Sidecar): LayerEdit & { faults: readonly FileFault[] } {
  const { epsg, systemText, faults } = readSystem(sidecar)
  return { epsg, systemText, faults }
}

const stillLacking = (name: string, placed: boolean): FileFault =>
  placed
    ? {
        line: null,
        code: 'unknown-system',
        text: `${name} now has a place, but its coordinate system is not known yet: bring its .prj file in too, or choose the system by its EPSG code.`,
      }
    : {
        line: null,
        code: 'missing-part',
        text: `The coordinate system of ${name} is known now; its world file, or tie points, must say where in it the picture lies.`,
      }
