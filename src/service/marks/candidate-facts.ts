import type { Layer, MarkSearch } from '#contract'
import { isSurveyError } from '#core/faults'
import type { PlanarGrid } from '#core/geodesy'
import type { LineCandidate, PitCandidate, RingCandidate } from '#core/marks'
import type { MarkFacts } from '#store'
import type { FoundMark } from './known-mark.ts'
import type { RasterPlace } from './layer-raster.ts'
import { circleFacts, outlineFacts, unmeasured } from './mark-facts.ts'

/** Where a search has looked: the raster on the ground, the layer that it shows, and what was sought. */
export interface SearchedGround {
  readonly place: RasterPlace
  readonly layer: Layer
  readonly search: MarkSearch
  readonly grid: PlanarGrid
}

/** A candidate as its finder gave it, with its kind. */
export type FoundCandidate =
  | ({ readonly kind: 'ring' } & RingCandidate)
  | ({ readonly kind: 'pit' } & PitCandidate)
  | LineCandidate

/** A candidate in metres of the survey's grid; null where that does not reach it, or where its outline encloses nothing. */
export function foundMark(candidate: FoundCandidate, ground: SearchedGround): FoundMark | null {
  const { place, layer, search } = ground
  const { tone, contrast, falseAlarmsPerMpx } = candidate
  const { view, layerId: _, ...settings } = search
  try {
    const { shape, ...own } = 'xy' in candidate ? lineFacts(candidate, ground) : roundFacts(candidate, ground)
    const facts: MarkFacts = {
      ...unmeasured,
      ...own,
      kind: candidate.kind,
      state: 'candidate',
      note: null,
      tone,
      contrast,
      // A million pixels of pixelM metres are pixelM squared square kilometres.
      falseAlarmsPerKm2: falseAlarmsPerMpx / place.pixelM ** 2,
      layerId: layer.id,
      layerName: layer.name,
      view,
      settings: { ...settings, pixelM: place.pixelM },
      seenAgain: [],
      madeBy: 'detector',
      edited: false,
    }
    return { shape, facts }
  } catch (error) {
    if (isSurveyError(error) && (error.code === 'outside-grid' || error.code === 'area-invalid')) return null
    throw error
  }
}

function roundFacts(
  candidate: Exclude<FoundCandidate, LineCandidate>,
  { place: { west, north, pixelM }, grid }: SearchedGround,
) {
  const [x, y] = [west + candidate.x * pixelM, north - candidate.y * pixelM]
  const diameter = candidate.diameter * pixelM
  const shape = { round: { x, y, diameter } }
  if (candidate.kind === 'pit') return { shape, ...circleFacts(x, y, diameter, grid) }
  const { completeness, ellipticity, score, gaps, ditchWidth } = candidate
  const measured = { completeness, ellipticity, score, arcGaps: gaps, ditchWidthM: ditchWidth * pixelM }
  return { shape, ...circleFacts(x, y, diameter, grid), ...measured }
}

function lineFacts(
  { kind, xy, width, completeness, pairSpacing, mayBe }: LineCandidate,
  { place: { west, north, pixelM }, grid }: SearchedGround,
) {
  const onGround = xy.map((value, i) => (i % 2 === 0 ? west + value * pixelM : north - value * pixelM))
  const pairs = Array.from(
    { length: xy.length / 2 },
    (_, i) => [onGround[2 * i]!, onGround[2 * i + 1]!] as const,
  )
  const ditchWidthM = width * pixelM
  const pairSpacingM = pairSpacing === null ? null : pairSpacing * pixelM
  return {
    shape: { line: { xy: onGround, width: ditchWidthM } },
    ...outlineFacts(kind, pairs, grid),
    ...{ completeness, ditchWidthM, pairSpacingM, mayBe },
  }
}
