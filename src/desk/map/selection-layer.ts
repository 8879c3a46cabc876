import Feature from 'ol/Feature.js'
import type LineString from 'ol/geom/LineString.js'
import MultiPolygon from 'ol/geom/MultiPolygon.js'
import Point from 'ol/geom/Point.js'
import VectorLayer from 'ol/layer/Vector.js'
import VectorSource from 'ol/source/Vector.js'
import Fill from 'ol/style/Fill.js'
import RegularShape from 'ol/style/RegularShape.js'
import Stroke from 'ol/style/Stroke.js'
import Style from 'ol/style/Style.js'
import { findspotSize, lineSymbols } from '#ui'
import type { Polygons } from '../land/corners.ts'
import { lineStyles } from './line-style.ts'
import type { PlanColours } from './plan-colours.ts'

/** What is chosen, as the map draws it. */
export type Chosen =
  | { readonly kind: 'polygons'; readonly polygons: Polygons }
  | { readonly kind: 'places'; readonly places: readonly (readonly [easting: number, northing: number])[] }
  | { readonly kind: 'lines'; readonly pieces: readonly Feature<LineString>[] }

export interface SelectionLayer {
  readonly layer: VectorLayer
  readonly show: (chosen: Chosen | null) => void
  readonly paint: (colours: PlanColours) => void
}

function featuresOf(chosen: Chosen): Feature[] {
  if (chosen.kind === 'polygons') return [new Feature(new MultiPolygon(chosen.polygons))]
  if (chosen.kind === 'places') return chosen.places.map((place) => new Feature(new Point([...place])))
  return chosen.pieces.flatMap((piece) => {
    const line = piece.getGeometry()
    return line ? [new Feature(line.clone())] : []
  })
}

/** The chosen thing, drawn once more above all others, in the colour of what is chosen and thicker than all else. */
export function selectionLayer(): SelectionLayer {
  const source = new VectorSource()
  const layer = new VectorLayer({ source, zIndex: 70, renderBuffer: 200 })
  return {
    layer,
    show: (chosen) => {
      // Lines lie close together: what is on them must stay in sight.
      layer.setZIndex(chosen?.kind === 'lines' ? 25 : 70)
      source.clear(true)
      if (chosen) source.addFeatures(featuresOf(chosen))
    },
    paint: (colours) => {
      const outlines = lineStyles(lineSymbols.selected, colours)
      const lines = lineStyles(lineSymbols.selectedTrack, colours)
      const place = new Style({
        image: new RegularShape({
          points: 4,
          radius: findspotSize.selected,
          fill: new Fill({ color: colours.selected }),
          stroke: new Stroke({ color: colours.halo, width: 3 }),
        }),
      })
      layer.setStyle((feature) => {
        const type = feature.getGeometry()?.getType()
        if (type === 'Point') return place
        return type === 'LineString' ? lines : outlines
      })
    },
  }
}
