import type { Mark } from '#contract'

/** A mark for tests: a candidate ring of 20 m, unless said otherwise. */
export function madeUpMark(more: Partial<Mark> = {}): Mark {
  return {
    id: 5,
    kind: 'ring',
    state: 'candidate',
    note: null,
    easting: 560_200,
    northing: 349_850,
    lat: 53.02,
    lon: 0.38,
    gridRef: 'TF 60200 49850',
    outline: [
      [560_210, 349_850],
      [560_200, 349_860],
      [560_190, 349_850],
      [560_200, 349_840],
      [560_210, 349_850],
    ],
    diameterM: 20,
    ditchWidthM: 1.5,
    tone: 'dark',
    completeness: 0.75,
    arcGaps: [{ fromDeg: 350, toDeg: 440 }],
    ellipticity: 0.95,
    contrast: 3.5,
    score: 0.875,
    falseAlarmsPerKm2: 0.125,
    pairSpacingM: null,
    mayBe: [],
    layerId: 3,
    layerName: 'Low Field',
    view: { view: 'as-is' },
    seenAgain: [],
    madeBy: 'detector',
    edited: false,
    madeAt: '2026-07-03T10:00:00.000Z',
    targetId: null,
    ...more,
  }
}
