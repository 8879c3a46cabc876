import path from 'node:path'
import {
  type ChipAddress,
  chipSideM,
  type Layer,
  type Mark,
  type MarkEdit,
  type MarkSearch,
  type NewMark,
  type NewTarget,
  type SoughtKind,
  soughtKindOf,
  type Target,
  type TargetEdit,
  usualChipSide,
} from '#contract'
import { SurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { StoredMark, StoredTarget, SurveyFile } from '#store'
import type { WorkOptions } from '#work'
import type { StartedJob } from '../desk-service.ts'
import { surveyGrid } from '../ground.ts'
import type { LayerTile } from '../layers/layer-service.ts'
import type { SourceParts } from '../layers/layer-sources.ts'
import { asTile, type LayersOfSurvey } from '../layers/layers-of-survey.ts'
import { type FoundCandidate, foundMark } from './candidate-facts.ts'
import type { MarkShape, PlacedMark } from './known-mark.ts'
import { type RasterPlace, rasterPlace, writeLayerBlocks } from './layer-raster.ts'
import { editedFacts, handMark, storedPlace } from './mark-facts.ts'
import { findMarks, type MarkFinders, usualFinders } from './mark-finders.ts'
import type { MarkService, SearchOutcome } from './mark-service.ts'
import { markView, targetView } from './mark-views.ts'
import { isUntouched, mergeSearch, outcomeWords } from './merge-search.ts'

export interface MarksParts {
  readonly start: SourceParts['start']
  readonly layers: Pick<LayersOfSurvey, 'list' | 'ground' | 'whole' | 'cache'>
  /** Called after a change of the survey. */
  readonly changed: () => void
}

const chipPixels = 256
/** Share of the bar that reading the layer takes; the rest is looking for marks. */
const readingShare = 0.35

const stateWords = {
  candidate: 'putting back',
  accepted: 'accepting',
  rejected: 'rejecting',
  unsure: 'doubting',
} as const satisfies Record<Mark['state'], string>

/** Marks and targets of one open survey. What each method does is said at `MarkService`. */
export class MarksOfSurvey implements MarkService {
  readonly #survey: SurveyFile
  readonly #parts: MarksParts
  readonly #finders: MarkFinders

  constructor(survey: SurveyFile, parts: MarksParts, finders = usualFinders) {
    this.#survey = survey
    this.#parts = parts
    this.#finders = finders
  }

  list(): Mark[] {
    const grid = surveyGrid(this.#survey)
    if (!grid) return []
    const targets = this.#targetsOfMarks()
    return this.#survey.marks().flatMap((mark) => markView(mark, targets.get(mark.id) ?? null, grid) ?? [])
  }

  search(search: MarkSearch): StartedJob<SearchOutcome> {
    const layer = this.#layer(search.layerId)
    const grid = this.#grid()
    const place = rasterPlace(layer, search)
    const label = `looking for ${search.kind}s on ${layer.name}`
    return this.#parts.start('marks', label, async (options) => {
      const candidates = await this.#candidates(search, layer, place, options)
      const ground = { place, layer, search, grid }
      const found = candidates.flatMap((each) => foundMark(each, ground) ?? [])
      const { changes, outcome } = mergeSearch(this.#placed(grid), found, search, layer.takenOn)
      this.#survey.changeMarks(changes, `search for ${search.kind}s on ${layer.name}`)
      this.#parts.changed()
      options.progress(1, `${layer.name}: ${outcomeWords(outcome, search.kind)}`)
      return outcome
    })
  }

  /** The layer as the view shows it goes into a file beside the cache, and the detector looks at that. */
  async #candidates(
    search: MarkSearch,
    { id, name }: Layer,
    place: RasterPlace,
    { progress, signal }: Required<WorkOptions>,
  ): Promise<readonly FoundCandidate[]> {
    const { layers } = this.#parts
    await untilAborted(layers.whole(id), signal)
    return layers.cache.working(async (folder) => {
      const blocks = path.join(folder, 'view.0.f32')
      await writeLayerBlocks(layers, { id, view: search.view }, place, blocks, {
        progress: (done) => progress(readingShare * done, `looking at ${name}`),
        signal,
      })
      const label = `looking for ${search.kind}s on ${name}`
      progress(readingShare, label)
      const { candidates, flat } = await findMarks(this.#finders, search, blocks, place, {
        progress: (done) => progress(readingShare + (1 - readingShare) * done, label),
        signal,
      })
      if (flat) {
        const sentence = `${name} has nothing to look at in this view: it is empty, or the same everywhere; choose another view.`
        throw new SurveyError('flat-raster', sentence)
      }
      if (signal.aborted) throw new SurveyError('cancelled', 'The search was cancelled; nothing was changed.')
      return candidates
    })
  }

  add(mark: NewMark): Mark {
    const grid = this.#grid()
    const layer = mark.layerId == null ? null : this.#layer(mark.layerId)
    const facts = handMark(mark, layer, grid)
    const [made] = this.#survey.changeMarks(
      { add: [facts], change: [], remove: [] },
      `drawing of a ${mark.kind}`,
    )
    this.#parts.changed()
    return this.#view(made!, grid)
  }

  change(id: number, edit: MarkEdit): Mark {
    const grid = this.#grid()
    const mark = this.#mark(id)
    const { easting, northing, diameterM } = this.#view(mark, grid)
    const patch = editedFacts(mark, { easting, northing, diameterM }, edit, grid)
    const verb = edit.state !== undefined && edit.state !== mark.state ? stateWords[edit.state] : 'change of'
    const [made] = this.#survey.changeMarks(
      { add: [], change: [{ id, edit: patch }], remove: [] },
      `${verb} ${edit.kind ?? mark.kind} ${id}`,
    )
    this.#parts.changed()
    return this.#view(made!, grid)
  }

  remove(id: number): void {
    this.#survey.removeMark(id)
    this.#parts.changed()
  }

  removeUndecided(kind: SoughtKind | null): number {
    const targets = this.#targetsOfMarks()
    const remove = this.#survey
      .marks()
      .filter((mark) => kind === null || soughtKindOf(mark.kind) === kind)
      .filter((mark) => isUntouched({ mark, hasTarget: targets.has(mark.id) }))
      .map(({ id }) => id)
    this.#survey.changeMarks({ add: [], change: [], remove }, 'removal of the undecided candidates')
    this.#parts.changed()
    return remove.length
  }

  async chip(id: number, { layerId, view, sideM }: ChipAddress, signal?: AbortSignal): Promise<LayerTile> {
    const mark = this.#view(this.#mark(id), this.#grid())
    const side = sideM ?? usualChipSide(mark)
    if (!(side >= chipSideM.least && side <= chipSideM.most)) {
      const sentence = `The side of a chip must be between ${chipSideM.least} and ${chipSideM.most} m, not ${side}.`
      throw new SurveyError('setting-out-of-range', sentence)
    }
    const corner = {
      west: mark.easting - side / 2,
      north: mark.northing + side / 2,
      pixelM: side / chipPixels,
    }
    return asTile(await this.#parts.layers.ground(layerId, corner, view, signal))
  }

  makeTarget(id: number): Target {
    const grid = this.#grid()
    const { kind, lon, lat, planar } = this.#mark(id)
    const there = this.#survey.targets().find(({ markId }) => markId === id)
    if (there) return this.#target(there, grid)
    const name = `${kind.charAt(0).toUpperCase()}${kind.slice(1)} ${id}`
    const made = this.#survey.addTarget({ name, note: null, lon, lat, planar, markId: id })
    this.#parts.changed()
    return this.#target(made, grid)
  }

  targets(): Target[] {
    const grid = surveyGrid(this.#survey)
    return grid ? this.#survey.targets().flatMap((target) => targetView(target, grid) ?? []) : []
  }

  addTarget({ name, easting, northing, note = null }: NewTarget): Target {
    const grid = this.#grid()
    const made = this.#survey.addTarget({ name, note, markId: null, ...storedPlace(easting, northing, grid) })
    this.#parts.changed()
    return this.#target(made, grid)
  }

  changeTarget(id: number, edit: TargetEdit): Target {
    const grid = this.#grid()
    const { easting, northing, ...plain } = edit
    const target = this.targets().find((each) => each.id === id)
    if (!target) {
      throw new SurveyError('not-found', `There is no target ${id} in the survey; it may have been removed.`)
    }
    const moves = easting !== undefined || northing !== undefined
    const place = moves ? storedPlace(easting ?? target.easting, northing ?? target.northing, grid) : {}
    const made = this.#survey.changeTarget(id, { ...plain, ...place })
    this.#parts.changed()
    return this.#target(made, grid)
  }

  removeTarget(id: number): void {
    this.#survey.removeTarget(id)
    this.#parts.changed()
  }

  #grid(): PlanarGrid {
    const grid = surveyGrid(this.#survey)
    if (grid) return grid
    throw new SurveyError(
      'no-track',
      'The survey holds nothing with a position yet: bring in a picture, a track or an area first.',
    )
  }

  #layer(id: number): Layer {
    const layer = this.#parts.layers.list().find((each) => each.id === id)
    if (layer) return layer
    throw new SurveyError('not-found', `There is no layer ${id} in the survey; it may have been removed.`)
  }

  #mark(id: number): StoredMark {
    return this.#survey.mark(id)
  }

  #view(mark: StoredMark, grid: PlanarGrid): Mark {
    const view = markView(mark, this.#targetsOfMarks().get(mark.id) ?? null, grid)
    if (view) return view
    throw new SurveyError('outside-grid', `The mark ${mark.id} lies outside ${grid.name}.`)
  }

  #target(target: StoredTarget, grid: PlanarGrid): Target {
    const view = targetView(target, grid)
    if (view) return view
    throw new SurveyError('outside-grid', `The target ${target.name} lies outside ${grid.name}.`)
  }

  #targetsOfMarks(): ReadonlyMap<number, number> {
    return new Map(
      this.#survey.targets().flatMap(({ id, markId }) => (markId === null ? [] : [[markId, id] as const])),
    )
  }

  /** The marks with their places, for a search to know them. */
  #placed(grid: PlanarGrid): PlacedMark[] {
    const targets = this.#targetsOfMarks()
    return this.#survey.marks().flatMap((mark): PlacedMark[] => {
      const view = markView(mark, null, grid)
      return view === null ? [] : [{ mark, shape: shapeOf(view), hasTarget: targets.has(mark.id) }]
    })
  }
}

function shapeOf({ easting: x, northing: y, diameterM, outline, ditchWidthM }: Mark): MarkShape {
  return diameterM === null
    ? { line: { xy: Float64Array.from(outline.flat()), width: ditchWidthM } }
    : { round: { x, y, diameter: diameterM } }
}

/** The same promise, or a fault as soon as the signal says so; the work itself may go on for others. */
function untilAborted<Result>(work: Promise<Result>, signal: AbortSignal): Promise<Result> {
  const gone = new Promise<never>((_, reject) => {
    const fail = () => reject(new SurveyError('cancelled', 'The search was cancelled; nothing was changed.'))
    if (signal.aborted) fail()
    else signal.addEventListener('abort', fail, { once: true })
  })
  return Promise.race([work, gone])
}
