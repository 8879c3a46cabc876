import { readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import path from 'node:path'
import {
  imageViews,
  type Layer,
  type LayerEdit,
  type LayerView,
  type Placing,
  type PlacingReply,
  terrainViews,
} from '#contract'
import { isSurveyError, SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { LatticeFrame } from '#core/raster'
import type { StoredLayer, SurveyFile } from '#store'
import { fileHash } from '#work'
import { surveyGrid } from '../ground.ts'
import { editLayer } from './edit-layer.ts'
import { LayerCache } from './layer-cache.ts'
import { whereIs } from './layer-files.ts'
import { type LayerPlace, layerPlace } from './layer-place.ts'
import type { LayerService, LayerTile, TileAddress } from './layer-service.ts'
import { exchanged, LayerSources, type SourceParts } from './layer-sources.ts'
import { clearTile, layerTile, pngOf, type TilePlaceOnGround, tileSide } from './layer-tile.ts'
import { layerView, stampOf } from './layer-view.ts'
import { placeByTiePoints } from './place-layer.ts'
import { TerrainSource } from './terrain-source.ts'
import { TileQueue } from './tile-queue.ts'
import type { ViewSource } from './view-source.ts'
import type { PaintedPiece } from './warp-tile.ts'

type Paint = (source: ViewSource, view: LayerView) => ReturnType<typeof layerTile>

/** A painted square of a layer; the rest as for a tile. */
export interface GroundPiece extends Omit<LayerTile, 'png'> {
  readonly piece: PaintedPiece | null
}

/** A tile asked for. */
interface Asked {
  readonly layer: StoredLayer
  readonly place: LayerPlace | null
  readonly view: LayerView
  readonly signal: AbortSignal | undefined
}

export interface LayersParts extends Pick<SourceParts, 'start' | 'better'> {
  /** Called after a change of the survey. */
  readonly changed: () => void
}

/** The largest file that can be taken inside a survey: it is held in memory once while it is. */
const mostInsideBytes = 256 * 2 ** 20

const highestLevel = 30

/** Images and terrain models of one open survey: told, changed, painted as tiles. What each method does is said at `LayerService`. */
export class LayersOfSurvey implements LayerService {
  readonly #survey: SurveyFile
  readonly #sources: LayerSources
  readonly #cache: LayerCache
  readonly #queue = new TileQueue(Math.max(2, availableParallelism()))
  readonly #places = new Map<string, LayerPlace | null>()
  /** Files found elsewhere than where they were, whose hash was right. */
  readonly #found = new Map<string, string>()
  readonly #changed: () => void

  constructor(survey: SurveyFile, parts: LayersParts, cache?: LayerCache) {
    this.#survey = survey
    this.#changed = parts.changed
    this.#cache = cache ?? new LayerCache(path.dirname(survey.path))
    this.#sources = new LayerSources({
      start: parts.start,
      better: parts.better,
      cache: this.#cache,
      fileOf: (layer, file) => this.#fileOf(layer, file),
    })
  }

  get cache(): LayerCache {
    return this.#cache
  }

  list(): Layer[] {
    const grid = surveyGrid(this.#survey)
    return this.#survey.layers().map((layer) => this.#view(layer, grid))
  }

  change(id: number, edit: LayerEdit): Layer {
    const layer = editLayer(this.#survey, this.#layer(id), edit)
    this.#changed()
    return this.#view(layer, surveyGrid(this.#survey))
  }

  place(id: number, placing: Placing): PlacingReply {
    const reply = placeByTiePoints(this.#survey, this.#layer(id), placing)
    this.#changed()
    return reply
  }

  remove(id: number): void {
    this.#survey.removeLayer(id)
    this.#changed()
  }

  async keepInside(id: number): Promise<Layer> {
    let layer = this.#layer(id)
    for (const file of layer.files) {
      if (file.originalId !== null) continue
      if (file.size > mostInsideBytes) {
        const sentence = `${file.name} is larger than ${mostInsideBytes / 2 ** 20} MiB and stays outside the survey, where it is found by its hash.`
        throw new SurveyError('file-too-large', sentence)
      }
      const place = await this.#fileOf(layer, file)
      if ((await fileHash(place)) !== file.sha256) throw exchanged(file.name)
      const bytes = new Uint8Array(readFileSync(place))
      const { name, sha256 } = file
      layer = this.#survey.keepLayerFile(id, { name, kind: layer.kind, bytes, sha256 })
      this.#changed()
    }
    return this.#view(layer, surveyGrid(this.#survey))
  }

  /** Begins to make a layer's whole detail ready. */
  prepare(id: number): void {
    this.#sources.prepare(this.#layer(id))
  }

  async tile(id: number, at: TileAddress, view: LayerView | null, signal?: AbortSignal): Promise<LayerTile> {
    const place = this.#placed(this.#layer(id))
    const pixelM = place.tileM * 2 ** checkedLevel(at)
    const [west, , , north] = place.bounds
    const corner = {
      west: west + at.column * tileSide * pixelM,
      north: north - at.row * tileSide * pixelM,
      pixelM,
    }
    return asTile(await this.ground(id, corner, view, signal))
  }

  /**
   * A square of 256 x 256 pixels of a layer anywhere in the survey's grid, of pixels of any size; `piece` is null where the layer does not reach.
   * Faults: those of `tile`.
   */
  async ground(
    id: number,
    corner: TilePlaceOnGround,
    view: LayerView | null,
    signal?: AbortSignal,
  ): Promise<GroundPiece> {
    const layer = this.#layer(id)
    const place = this.#placed(layer)
    return this.#painted({ layer, place, view: view ?? usualView(layer), signal }, (source, seen) =>
      layerTile(source, place.map.toPixels, corner, seen),
    )
  }

  /** Heights of a terrain model at the middles of a frame's cells, north up; NaN where it has none. Faults: those of `tile`; 'setting-out-of-range' for a picture. */
  async heights(id: number, frame: LatticeFrame): Promise<Float32Array> {
    const layer = this.#layer(id)
    const place = this.#placed(layer)
    const source = await this.#sources.source(layer, place)
    if (source instanceof TerrainSource) return source.heightsIn(place.map.toPixels, frame)
    throw new SurveyError('setting-out-of-range', `${layer.name} is a picture and has no heights.`)
  }

  /** Waits until a layer can be looked at in its whole detail. Faults: SurveyError 'cancelled', those of reading its files. */
  whole(id: number): Promise<void> {
    return this.#sources.whole(this.#layer(id))
  }

  #placed(layer: StoredLayer): LayerPlace {
    const grid = surveyGrid(this.#survey)
    const place = grid && this.#place(layer, grid)
    if (place) return place
    throw new SurveyError('not-found', `${layer.name} has not been placed yet, so it has no part in the map.`)
  }

  async pictureTile(
    id: number,
    at: TileAddress,
    view: LayerView | null,
    signal?: AbortSignal,
  ): Promise<LayerTile> {
    const layer = this.#layer(id)
    const grid = surveyGrid(this.#survey)
    const place = grid && this.#place(layer, grid)
    const pixelM = 2 ** checkedLevel(at)
    const corner = { west: at.column * tileSide * pixelM, north: -at.row * tileSide * pixelM, pixelM }
    const toPixels = (xy: Float64Array, out: Float64Array): void => {
      for (let i = 0; i < xy.length; i++) out[i] = i % 2 === 0 ? xy[i]! : -xy[i]!
    }
    const asked = { layer, place, view: view ?? usualView(layer), signal }
    return asTile(await this.#painted(asked, (source, seen) => layerTile(source, toPixels, corner, seen)))
  }

  async #painted(asked: Asked, paint: Paint): Promise<GroundPiece> {
    const { layer } = asked
    try {
      return await this.#paintedNow(asked, paint).catch((error: unknown) => {
        if (isSurveyError(error) || error instanceof RangeError) throw error
        // The cache was cleared away under an open file.
        this.#sources.forget()
        return this.#paintedNow(asked, paint)
      })
    } catch (error) {
      if (!(error instanceof RangeError)) throw error
      const sentence = `${layer.name} cannot be looked at so: ${error.message}.`
      throw new SurveyError('setting-out-of-range', sentence, { cause: error })
    }
  }

  /** What takes long is waited for outside the queue, so that tiles of other layers are not kept waiting. */
  async #paintedNow({ layer, place, view, signal }: Asked, paint: Paint): Promise<GroundPiece> {
    const source = await this.#sources.source(layer, place)
    await source.prepare(view)
    const piece = await this.#queue.run(() => paint(source, view), signal)
    return { piece, stamp: stampOf(layer, source.whole ? 'whole' : 'overview'), whole: source.whole }
  }

  #layer(id: number): StoredLayer {
    const layer = this.#survey.layers().find((each) => each.id === id)
    if (layer) return layer
    throw new SurveyError('not-found', `There is no layer ${id} in the survey; it may have been removed.`)
  }

  #view(layer: StoredLayer, grid: PlanarGrid | null): Layer {
    const place = grid && this.#place(layer, grid)
    return layerView(this.#survey.path, layer, place, this.#sources.readiness(layer))
  }

  /** Kept while nothing of the placing changes. */
  #place(layer: StoredLayer, grid: PlanarGrid): LayerPlace | null {
    const { placing, epsg, systemText, placedBy, columns, rows, expectedErrorM } = layer
    const key = JSON.stringify([
      grid.epsg,
      placing,
      epsg,
      systemText,
      placedBy,
      columns,
      rows,
      expectedErrorM,
    ])
    const known = this.#places.get(key)
    if (known !== undefined) return known
    const place = layerPlace(layer, grid)
    this.#places.set(key, place)
    return place
  }

  /** Where a file can be read: where it is, or taken out of the survey for as long as the cache keeps it. */
  async #fileOf(layer: StoredLayer, file: StoredLayer['files'][number]): Promise<string> {
    const { path: home } = this.#survey
    const place = this.#found.get(file.sha256) ?? whereIs(home, file)
    if (place !== null && (place === file.path || this.#found.has(file.sha256))) return place
    if (place !== null && (await fileHash(place)) === file.sha256) {
      this.#found.set(file.sha256, place)
      return place
    }
    if (file.originalId !== null) return this.#takenOut(file.sha256, file.originalId)
    throw new SurveyError(
      'not-found',
      `${file.name}, of the layer ${layer.name}, is not where it was (${file.path}); bring it in again from where it is now, and it will be known.`,
    )
  }

  async #takenOut(sha256: string, originalId: number): Promise<string> {
    const file = path.join(this.#cache.folderOf(sha256), 'original.0.bin')
    if (this.#cache.find(sha256, 'original')) return file
    await this.#cache.make(sha256, 'original', async (folder) => {
      const { writeFile } = await import('node:fs/promises')
      await writeFile(path.join(folder, 'original.0.bin'), this.#survey.originalBytes(originalId))
      return {}
    })
    return file
  }
}

/** The same as a picture, clear where there is nothing. */
export async function asTile({ piece, stamp, whole }: GroundPiece): Promise<LayerTile> {
  return { png: await (piece ? pngOf(piece) : clearTile()), stamp, whole }
}

function checkedLevel({ level, column, row }: TileAddress): number {
  const whole = [level, column, row].every((number) => Number.isInteger(number) && number >= 0)
  if (whole && level <= highestLevel) return level
  throw new SurveyError('not-found', 'There is no such tile.')
}

const usualView = ({ kind }: StoredLayer): LayerView => ({
  view: kind === 'terrain' ? terrainViews[0] : imageViews[0],
})
