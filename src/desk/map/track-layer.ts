import Feature from 'ol/Feature.js'
import LineString from 'ol/geom/LineString.js'
import VectorImageLayer from 'ol/layer/VectorImage.js'
import VectorSource from 'ol/source/Vector.js'
import type { TrackView } from '#contract'
import { lineSymbols } from '#ui'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'
import { linePieces, trackOpacity, trackTolerance } from './track-tolerance.ts'

export type LineLoader = (id: number, tolerance: number, signal: AbortSignal) => Promise<Float64Array>

export interface TrackLayer {
  readonly layer: VectorImageLayer
  readonly show: (tracks: readonly TrackView[]) => void
  readonly paint: (colours: PlanColours) => void
  /** Fetches the lines that this scale asks for. */
  readonly atScale: (metresPerPixel: number) => void
  /** The pieces of one track as they are drawn now. */
  readonly piecesOf: (id: number) => readonly Feature<LineString>[]
  readonly close: () => void
}

const atOnce = 4

/**
 * All tracks as one picture, drawn anew only when the map has come to rest. Lines come thinned to the scale, cut into pieces
 * so that those out of sight cost nothing; what was fetched for a scale stays until the next scale's line is there.
 */
export function trackLayer(load: LineLoader, failed: (error: unknown) => void): TrackLayer {
  const source = new VectorSource<Feature<LineString>>({ useSpatialIndex: true })
  const layer = new VectorImageLayer({ source, zIndex: 20, imageRatio: 1.6 })
  let tracks: readonly TrackView[] = []
  let tolerance = 0
  const drawn = new Map<number, { readonly tolerance: number; readonly features: Feature<LineString>[] }>()
  let fetching = new AbortController()

  const remove = (id: number): void => {
    const old = drawn.get(id)
    if (old) source.removeFeatures(old.features)
    drawn.delete(id)
  }
  const put = (track: TrackView, line: Float64Array, made: number): void => {
    const features = linePieces(line).map((piece) => {
      const feature = new Feature(new LineString(piece, 'XY'))
      feature.set('kind', track.walked ? 'track' : 'planned', true)
      feature.set('track', track.id, true)
      return feature
    })
    remove(track.id)
    drawn.set(track.id, { tolerance: made, features })
    source.addFeatures(features)
  }
  const fetchAll = async (): Promise<void> => {
    fetching.abort()
    fetching = new AbortController()
    const { signal } = fetching
    const wanted = tolerance
    const waiting = tracks.filter((track) => drawn.get(track.id)?.tolerance !== wanted)
    const worker = async (): Promise<void> => {
      for (let track = waiting.shift(); track && !signal.aborted; track = waiting.shift()) {
        const line = await load(track.id, wanted, signal)
        if (!signal.aborted) put(track, line, wanted)
      }
    }
    try {
      await Promise.all(Array.from({ length: atOnce }, worker))
    } catch (error) {
      if (!signal.aborted) failed(error)
    }
  }
  return {
    layer,
    show: (next) => {
      const kept = new Set(next.map((track) => track.id))
      for (const id of [...drawn.keys()]) if (!kept.has(id)) remove(id)
      tracks = next
      if (tolerance > 0) void fetchAll()
    },
    paint: (colours) => {
      const walked = lineStyles(lineSymbols.track, colours)
      const planned = lineStyles(lineSymbols.planned, colours)
      layer.setStyle((feature) => (feature.get('kind') === 'planned' ? planned : walked))
    },
    atScale: (metresPerPixel) => {
      layer.setOpacity(trackOpacity(metresPerPixel))
      const next = trackTolerance(metresPerPixel)
      if (next === tolerance) return
      tolerance = next
      void fetchAll()
    },
    piecesOf: (id) => drawn.get(id)?.features ?? [],
    close: () => fetching.abort(),
  }
}
