import path from 'node:path'
import type { Job, Progress } from '#contract'
import { SurveyError } from '#core/faults'
import type { MeasuredView } from '#core/relief'
import type { StoredLayer } from '#store'
import {
  type HeightsPart,
  heightsInProcess,
  joinedInProcess,
  measureInThreads,
  type PictureForm,
  type PicturePlanes,
  PictureReader,
  pictureInProcess,
  wholeInProcess,
} from '#work'
import type { StartedJob } from '../desk-service.ts'
import { BlockSource } from './block-source.ts'
import type { LayerCache } from './layer-cache.ts'
import { rastersOf } from './layer-files.ts'
import type { LayerPlace } from './layer-place.ts'
import { type Readiness, sourceKey } from './layer-view.ts'
import { PictureSource } from './picture-source.ts'
import { rasterKindOf } from './raster-kind.ts'
import { rasterTurn } from './terrain-light.ts'
import { TerrainSource } from './terrain-source.ts'
import { farPictureName, viewWords } from './terrain-views.ts'
import { TileQueue } from './tile-queue.ts'
import type { ViewSource } from './view-source.ts'

/** What is kept in the cache of a picture. */
export interface PictureFacts {
  readonly form: PictureForm
  readonly planes: PicturePlanes
}

/** What is kept in the cache of heights. */
export interface HeightsFacts {
  readonly columns: number
  readonly rows: number
}

type JobWork<Result> = (options: { progress: Progress; signal: AbortSignal }) => Promise<Result>

export interface SourceParts {
  readonly cache: LayerCache
  /** A path at which a file of the layer can be read. Faults: SurveyError 'not-found'. */
  readonly fileOf: (layer: StoredLayer, file: StoredLayer['files'][number]) => Promise<string>
  readonly start: <Result>(kind: Job['kind'], label: string, work: JobWork<Result>) => StartedJob<Result>
  /** Called when a layer looks better than before. */
  readonly better: () => void
}

/** How long a cancelled piece of work is not begun again, however many tiles ask for it. */
const cancelledMs = 5000

/** The pictures and terrain models of one survey, opened for reading and made ready as they are asked for. */
export class LayerSources {
  readonly #parts: SourceParts
  readonly #open = new Map<string, Promise<ViewSource>>()
  readonly #work = new Map<string, Promise<unknown>>()
  readonly #cancelled = new Map<string, number>()
  /** Pictures of whole terrains, one at a time, the last asked for first. */
  readonly #farQueue = new TileQueue(1)

  constructor(parts: SourceParts) {
    this.#parts = parts
  }

  readiness(layer: StoredLayer): Readiness {
    const { cache } = this.#parts
    const key = sourceKey(layer)
    if (layer.kind === 'terrain') return cache.find(key, 'heights') ? 'whole' : 'nothing'
    return cache.find(key, 'whole') ? 'whole' : cache.find(key, 'overview') ? 'overview' : 'nothing'
  }

  /**
   * The layer as something to be looked at. What is missing is made: of a picture an overview first, its whole detail afterwards by
   * itself. Faults: SurveyError 'not-found' where its file is gone, those of reading it, 'cancelled'.
   */
  source(layer: StoredLayer, place: LayerPlace | null): Promise<ViewSource> {
    const readiness = this.readiness(layer)
    if (layer.kind === 'image' && readiness !== 'whole') this.#finish(layer)
    const { nearInfraredBand, noData, placing } = layer
    const key = JSON.stringify([
      sourceKey(layer),
      layer.kind,
      readiness,
      nearInfraredBand,
      noData,
      placing,
      place?.pixelM,
    ])
    const known = this.#open.get(key)
    if (known && readiness !== 'nothing') return known
    const made =
      layer.kind === 'terrain' ? this.#terrain(layer, place) : this.#picture(layer, place?.pixelM ?? 1)
    this.#open.set(key, made)
    made.catch(() => this.#open.delete(key))
    return made
  }

  /** Forgets what it holds open of a layer, for instance because its cache has gone. */
  forget(): void {
    this.#open.clear()
  }

  /** Makes the whole detail of a picture ready, unless that is under way or was cancelled just now. */
  prepare(layer: StoredLayer): void {
    if (layer.kind === 'image' && this.readiness(layer) !== 'whole') this.#finish(layer)
  }

  /** Waits until a picture's whole detail is ready. Faults: SurveyError 'cancelled', those of reading its file. */
  async whole(layer: StoredLayer): Promise<void> {
    if (layer.kind !== 'image' || this.readiness(layer) === 'whole') return
    await this.#once(`whole ${sourceKey(layer)}`, () => this.#makeWhole(layer))
  }

  #finish(layer: StoredLayer): void {
    this.#once(`whole ${sourceKey(layer)}`, () => this.#makeWhole(layer)).catch(() => {
      // Told by the job; the overview serves meanwhile.
    })
  }

  async #picture(layer: StoredLayer, pixelM: number): Promise<ViewSource> {
    const { cache } = this.#parts
    const key = sourceKey(layer)
    const facts =
      cache.find<PictureFacts>(key, 'whole') ??
      cache.find<PictureFacts>(key, 'overview') ??
      (await this.#once(`overview ${key}`, () => this.#makeOverview(layer)))
    const reader = await PictureReader.open(cache.folderOf(key), facts.planes, layer.noData)
    return new PictureSource(reader, facts.planes.whole, layer, pixelM)
  }

  async #makeOverview(layer: StoredLayer): Promise<PictureFacts> {
    const { cache, fileOf, start, better } = this.#parts
    const [raster] = rastersOf(layer)
    const file = await fileOf(layer, raster!)
    const label = `making an overview of ${raster!.name}`
    const made = await start('layer', label, (options) =>
      cache.working(async (folder) => {
        const looked = await pictureInProcess(
          { file, name: raster!.name, folder },
          { ...options, temporaryFolder: folder },
        )
        if (looked.sha256 !== raster!.sha256) throw exchanged(raster!.name)
        const facts: PictureFacts = { form: looked.form, planes: looked.planes }
        cache.keep(raster!.sha256, looked.planes.whole ? 'whole' : 'overview', folder, facts)
        return facts
      }),
    ).done
    better()
    return made
  }

  async #makeWhole(layer: StoredLayer): Promise<void> {
    const { cache, fileOf, start, better } = this.#parts
    const [raster] = rastersOf(layer)
    const { sha256, name } = raster!
    const overview =
      cache.find<PictureFacts>(sha256, 'overview') ??
      (await this.#once(`overview ${sha256}`, () => this.#makeOverview(layer)))
    if (overview.planes.whole) return
    const file = await fileOf(layer, raster!)
    await start('layer', `preparing ${name} for the map`, (options) =>
      cache.make(sha256, 'whole', async (folder): Promise<PictureFacts> => {
        const input = { file, name, folder, form: overview.form, sha256 }
        return {
          form: overview.form,
          planes: await wholeInProcess(input, { ...options, temporaryFolder: folder }),
        }
      }),
    ).done
    better()
  }

  async #terrain(layer: StoredLayer, place: LayerPlace | null): Promise<ViewSource> {
    const { cache } = this.#parts
    const key = sourceKey(layer)
    if (!place) {
      throw new SurveyError(
        'not-found',
        `${layer.name} has no place yet: say which coordinate system it is in.`,
      )
    }
    if (!cache.find(key, 'heights')) await this.#once(`heights ${key}`, () => this.#makeHeights(layer))
    const { columns, rows } = layer
    const heights = new BlockSource(path.join(cache.folderOf(key), 'heights.0.f32'), columns, rows)
    const turn = rasterTurn(place.axes)
    return new TerrainSource(heights, turn, (view) => this.#farPicture(layer, view, turn))
  }

  async #farPicture(
    layer: StoredLayer,
    view: MeasuredView,
    { cellX, cellY }: { readonly cellX: number; readonly cellY: number },
  ): Promise<BlockSource> {
    const { cache, start } = this.#parts
    const key = sourceKey(layer)
    const { columns, rows } = layer
    const name = farPictureName(view, cellX, cellY)
    if (!cache.find(key, name)) {
      const label = `working out ${viewWords[view.view]} of ${layer.name}`
      const heights = path.join(cache.folderOf(key), 'heights.0.f32')
      const work: JobWork<unknown> = (options) =>
        cache.make(key, name, async (folder) => {
          const out = path.join(folder, `${name}.0.f32`)
          await measureInThreads({ heights, out, columns, rows, cellX, cellY, view, label }, options)
          return { view }
        })
      await this.#once(`${name} ${key}`, () => this.#farQueue.run(() => start('layer', label, work).done))
    }
    return new BlockSource(path.join(cache.folderOf(key), `${name}.0.f32`), columns, rows)
  }

  /** Heights of each file, and of a mosaic those of the whole besides. */
  async #makeHeights(layer: StoredLayer): Promise<void> {
    const { cache, start, better } = this.#parts
    const { columns, rows, name } = layer
    const rasters = rastersOf(layer)
    const parts: HeightsPart[] = []
    for (const raster of rasters) {
      const facts =
        cache.find<HeightsFacts>(raster.sha256, 'heights') ?? (await this.#fileHeights(layer, raster))
      const heights = path.join(cache.folderOf(raster.sha256), 'heights.0.f32')
      parts.push({ ...raster, ...facts, heights })
    }
    if (parts.length > 1) {
      const label = `joining the parts of ${name}`
      await start('layer', label, (options) =>
        cache.make(sourceKey(layer), 'heights', async (folder): Promise<HeightsFacts> => {
          await joinedInProcess(
            { parts, columns, rows, folder, label },
            { ...options, temporaryFolder: folder },
          )
          return { columns, rows }
        }),
      ).done
    }
    better()
  }

  async #fileHeights(layer: StoredLayer, raster: StoredLayer['files'][number]): Promise<HeightsFacts> {
    const { cache, fileOf, start } = this.#parts
    const { name, sha256 } = raster
    const file = await fileOf(layer, raster)
    const kind = rasterKindOf(name, file)
    if (kind !== 'tiff' && kind !== 'ascii-grid') {
      const sentence = `${name} holds no heights that can be read; let it be a picture again, or bring the terrain model in as GeoTIFF or ASCII grid.`
      throw new SurveyError('unsupported-feature', sentence)
    }
    const made = await start('layer', `reading ${name}`, (options) =>
      cache.make(sha256, 'heights', async (folder) => {
        const found = await heightsInProcess(
          { file, name, kind, folder },
          { ...options, temporaryFolder: folder },
        )
        if (found.sha256 !== sha256) throw exchanged(name)
        return { columns: found.columns, rows: found.rows } satisfies HeightsFacts
      }),
    ).done
    return made
  }

  /** The same work is done once, however many ask for it; what the user cancelled is left alone for a while. */
  #once<Result>(name: string, work: () => Promise<Result>): Promise<Result> {
    const running = this.#work.get(name)
    if (running) return running as Promise<Result>
    if (performance.now() - (this.#cancelled.get(name) ?? -Infinity) < cancelledMs) {
      return Promise.reject(
        new SurveyError('cancelled', 'This was cancelled just now; look at it again to begin anew.'),
      )
    }
    const made = work()
      .catch((error: unknown) => {
        if ((error as SurveyError).code === 'cancelled') this.#cancelled.set(name, performance.now())
        throw error
      })
      .finally(() => this.#work.delete(name))
    this.#work.set(name, made)
    return made
  }
}

export function exchanged(name: string): SurveyError {
  const sentence = `${name} is no longer the file that was brought in: something has changed it; bring it in again.`
  return new SurveyError('not-found', sentence)
}
