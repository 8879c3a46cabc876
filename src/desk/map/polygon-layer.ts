import type { Coordinate } from 'ol/coordinate.js'
import Feature from 'ol/Feature.js'
import MultiPolygon from 'ol/geom/MultiPolygon.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import type { AreaKind, AreaView, GapView } from '#contract'
import { lineSymbols } from '#ui'
import { hatchFill, lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

/** Metres a pixel from which gaps are drawn thin. */
const farFrom = 0.12

export interface PolygonLayer<Item extends AreaView | GapView> {
  readonly layer: VectorLayer
  readonly show: (items: readonly Item[]) => void
  readonly paint: (colours: PlanColours) => void
  /** Id of the smallest item that holds a place; null where none does. */
  readonly at: (place: Coordinate) => number | null
  /** Hides one item, which is being changed and is drawn elsewhere; null hides none. */
  readonly hide: (id: number | null) => void
}

function polygonLayer<Item extends AreaView | GapView>(
  kind: 'area' | 'gap',
  zIndex: number,
): PolygonLayer<Item> {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex, renderBuffer: 200, updateWhileInteracting: false })
  let hidden: number | null = null
  const features = (items: readonly Item[]): Feature[] =>
    items.map((item) => {
      const feature = new Feature(new MultiPolygon(item.polygons))
      feature.setId(item.id)
      feature.set('kind', kind)
      feature.set('ground', 'kind' in item ? item.kind : 'gap')
      return feature
    })
  return {
    layer,
    show: (items) => {
      source.clear(true)
      source.addFeatures(features(items))
    },
    paint: (colours) => {
      const hatch = kind === 'gap' ? hatchFill(colours) : null
      const near = lineStyles(lineSymbols[kind], colours, hatch)
      const far = kind === 'gap' ? lineStyles(lineSymbols.gapFar, colours, hatch) : near
      const other = {
        'no-go': lineStyles(lineSymbols.noGo, colours, hatchFill(colours)),
        hazard: lineStyles(lineSymbols.hazard, colours),
        field: lineStyles(lineSymbols.field, colours),
      }
      layer.setStyle((feature, metresPerPixel) => {
        if (hidden !== null && feature.getId() === hidden) return []
        const ground = feature.get('ground') as AreaKind | 'gap'
        if (ground !== 'gap' && ground !== 'search') return other[ground]
        return metresPerPixel > farFrom ? far : near
      })
    },
    at: (place) => {
      const size = (feature: Feature): number => (feature.getGeometry() as MultiPolygon).getArea()
      const smallest = source.getFeaturesAtCoordinate(place).sort((a, b) => size(a) - size(b))[0]
      return smallest === undefined ? null : (smallest.getId() as number)
    },
    hide: (id) => {
      hidden = id
      layer.changed()
    },
  }
}

export const areaLayer = (): PolygonLayer<AreaView> => polygonLayer<AreaView>('area', 40)
export const gapLayer = (): PolygonLayer<GapView> => polygonLayer<GapView>('gap', 30)
