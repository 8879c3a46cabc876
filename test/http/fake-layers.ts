import type { Layer } from '#contract'
import { SurveyError } from '#core/faults'
import type { LayerService, LayerTile } from '#service'

export const madeUpLayer: Layer = {
  id: 3,
  name: 'field.tif',
  kind: 'image',
  takenOn: null,
  fileName: 'field.tif',
  found: true,
  inside: false,
  columns: 4000,
  rows: 3000,
  bands: 3,
  pixelM: 0.1,
  epsg: 27_700,
  expectedErrorM: null,
  bounds: [560_000, 349_700, 560_400, 350_000],
  views: ['as-is', 'equalised'],
  tileM: 0.1,
  levels: 5,
  ready: true,
  stamp: 'stamp-1',
}

/** A test double for the layers of a fake desk: one layer in memory, tiles that say what was asked of them. */
export function fakeLayers(changed: () => void): LayerService & {
  /** What tiles were asked for, in order, and whether their asker has gone since. */
  readonly asked: { readonly what: string; readonly signal: AbortSignal | undefined }[]
  /** While true, tiles wait until their asker goes. */
  hold: boolean
} {
  let layer: Layer | null = madeUpLayer
  const asked: ReturnType<typeof fakeLayers>['asked'] = []
  const found = (id: number): Layer => {
    if (layer?.id === id) return layer
    throw new SurveyError('not-found', `There is no layer ${id}.`)
  }
  const tile = async (id: number, what: unknown, signal: AbortSignal | undefined): Promise<LayerTile> => {
    found(id)
    asked.push({ what: JSON.stringify(what), signal })
    if (layers.hold) await new Promise((resolve) => signal?.addEventListener('abort', resolve))
    return { png: Buffer.from(JSON.stringify(what)), stamp: 'stamp-1', whole: id === 3 && what !== null }
  }
  const layers: ReturnType<typeof fakeLayers> = {
    asked,
    hold: false,
    list: () => (layer ? [layer] : []),
    change: (id, edit) => {
      layer = { ...found(id), ...(edit.name === undefined ? {} : { name: edit.name }) }
      changed()
      return layer
    },
    remove: (id) => {
      found(id)
      layer = null
      changed()
    },
    place: (id, { points }) => {
      found(id)
      return { residualsM: points.map(() => 0), rmsM: null }
    },
    keepInside: async (id) => {
      layer = { ...found(id), inside: true }
      return layer
    },
    tile: (id, at, view, signal) => tile(id, [at, view], signal),
    pictureTile: (id, at, view, signal) => tile(id, ['picture', at, view], signal),
  }
  return layers
}
