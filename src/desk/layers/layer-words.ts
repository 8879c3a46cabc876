import type { Layer } from '#contract'
import { countText, lengthText, wholeNumber } from '#ui'

const days = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  timeZone: 'UTC',
})

/** `2 Jul 2026` of `2026-07-02`. */
function dayText(day: string): string {
  const date = new Date(`${day}T00:00:00Z`)
  return Number.isNaN(date.getTime()) ? day : days.format(date)
}

/** A pixel's side on the ground: `25 cm`, `1.0 m`. In metres. */
export function pixelText(metres: number): string {
  if (metres >= 0.995) return lengthText(metres)
  return `${Number((metres * 100).toPrecision(2))}\u202fcm`
}

/** `Image · 2 Jul 2026 · 25 cm a pixel`. */
export function layerFacts(layer: Layer): string {
  const { kind, takenOn, pixelM, bounds, columns, rows, bands } = layer
  const size = bounds
    ? `${pixelText(pixelM)} a pixel`
    : `${wholeNumber(columns)} × ${wholeNumber(rows)} pixels`
  const parts = [
    kind === 'terrain' ? 'Terrain model' : 'Image',
    takenOn === null ? null : dayText(takenOn),
    size,
    kind === 'image' && bands > 3 ? countText(bands, 'band') : null,
  ]
  return parts.filter((part) => part !== null).join(' · ')
}

/** The name with the year, to tell pictures of one field apart. */
export function nameWithYear({ name, takenOn }: Layer): string {
  const year = takenOn?.slice(0, 4)
  return year === undefined || name.includes(year) ? name : `${name} (${year})`
}

/** What keeps a layer from the map; null where nothing does. */
export type LayerLack = 'file' | NonNullable<Layer['lack']>

export function lackOf(layer: Layer): LayerLack | null {
  if (!layer.found) return 'file'
  return layer.bounds ? null : (layer.lack ?? 'place')
}
