import type { RecordedArea, RecordedTrack } from '#core/record'
import { areaNameKey, ringKey } from './gpx-own.ts'

interface AreaParts {
  readonly name: string | null
  readonly attributes: Readonly<Record<string, string>>
  readonly parts: Map<string, Float64Array[]>
}

/**
 * Puts areas together again from the closed trk elements that `writeGpx` makes of them, GPX having no polygons: an
 * outline that was only drawn must not come back as walked ground.
 */
export class GpxAreas {
  readonly #areas = new Map<string, AreaParts>()

  /** Takes the track if it is a ring of an area; false if it is a track like any other. */
  take(track: RecordedTrack): boolean {
    const place = /^area (\d{1,9}) part (\d{1,9}) ring \d{1,9}$/.exec(track.attributes[ringKey] ?? '')
    const { xy } = track
    const closed = xy.length >= 8 && xy[0] === xy.at(-2) && xy[1] === xy.at(-1)
    if (place === null || !closed) return false
    const [, area = '', part = ''] = place
    let parts = this.#areas.get(area)
    if (parts === undefined) {
      const { [ringKey]: _ring, [areaNameKey]: name = null, desc: _desc, ...attributes } = track.attributes
      parts = { name, attributes, parts: new Map() }
      this.#areas.set(area, parts)
    }
    const rings = parts.parts.get(part)
    if (rings === undefined) parts.parts.set(part, [xy])
    else rings.push(xy)
    return true
  }

  finish(): RecordedArea[] {
    return [...this.#areas.values()].map(({ name, attributes, parts }) => ({
      epsg: 4326,
      name,
      polygons: [...parts.values()].map((rings) => ({ rings })),
      attributes,
    }))
  }
}
