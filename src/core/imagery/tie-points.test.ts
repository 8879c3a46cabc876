import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { isSurveyError } from '#core/faults'
import { fitAffine, fitProjective, groundAt, pictureAt, placementFromLines, type TiePoint } from './index.ts'

const point = (column: number, row: number, easting: number, northing: number): TiePoint => ({
  column,
  row,
  easting,
  northing,
})

describe('worked by hand', () => {
  test('three corners of an upright picture of 0.5 m pixels', () => {
    const points = [
      point(0, 0, 558_000, 347_500),
      point(1000, 0, 558_500, 347_500),
      point(0, 800, 558_000, 347_100),
    ]
    const { placement, residualsM, rmsM, degreesOfFreedom } = fitAffine(points)
    expect(groundAt(placement, 1000, 800)).toEqual([expect.closeTo(558_500, 7), expect.closeTo(347_100, 7)])
    expect(pictureAt(placement, 558_250, 347_300)).toEqual([expect.closeTo(500, 7), expect.closeTo(400, 7)])
    expect(Math.max(...residualsM)).toBeLessThan(1e-9)
    expect([rmsM, degreesOfFreedom]).toEqual([null, 0])
  })

  test('four corners of a square, one of them 4 m out: each is missed by 1 m, and the root mean square is the root of 2', () => {
    // Least squares share an error of one corner of a square evenly: +1 -1 +1 -1. Four squares of 1 m over 8 - 6 degrees.
    const points = [
      point(0, 0, 1000, 2000 + 4),
      point(100, 0, 1100, 2000),
      point(100, 100, 1100, 1900),
      point(0, 100, 1000, 1900),
    ]
    const { residualsM, rmsM } = fitAffine(points)
    for (const residual of residualsM) expect(residual).toBeCloseTo(1, 10)
    expect(rmsM).toBeCloseTo(Math.SQRT2, 10)
  })

  test('a tilted square: the map (x, y) to (2x, -2y) / (1 + x/100) takes it, and its inverse brings it back', () => {
    // (0,0) to (0,0); (100,0) to (100,0); (100,100) to (100,-100); (0,100) to (0,-200). (50,50): (100,-100)/1.5.
    const points = [
      point(0, 0, 500_000, 300_000),
      point(100, 0, 500_100, 300_000),
      point(100, 100, 500_100, 299_900),
      point(0, 100, 500_000, 299_800),
    ]
    const { placement, rmsM } = fitProjective(points)
    const [easting, northing] = groundAt(placement, 50, 50)
    expect(easting).toBeCloseTo(500_000 + 100 / 1.5, 7)
    expect(northing).toBeCloseTo(300_000 - 100 / 1.5, 7)
    expect(pictureAt(placement, easting, northing)[0]).toBeCloseTo(50, 7)
    expect(rmsM).toBeNull()
    // The horizon is x = -100: beyond it there is no ground.
    expect(groundAt(placement, -100, 20)).toEqual([Number.NaN, Number.NaN])
    expect(groundAt(placement, -150, 20)).toEqual([Number.NaN, Number.NaN])
  })
})

// numpy.linalg.lstsq and scipy.optimize.least_squares: fixtures/imagery/SOURCE.md.
interface Fit {
  residualsM: number[]
  rmsM: number | null
  probe: [number, number]
}
const cases: { name: string; points: number[][]; probe: [number, number]; affine?: Fit; projective?: Fit }[] =
  JSON.parse(
    readFileSync(new URL('../../../fixtures/imagery/tie-points/expected.json', import.meta.url), 'utf8'),
  )

describe.each(cases)('as numpy and scipy find it: $name', ({ points, probe, affine, projective }) => {
  const ties = points.map(([column, row, easting, northing]) => point(column!, row!, easting!, northing!))
  test.each([
    ['affine', fitAffine, affine, 1e-7],
    // Both go on until nothing more is gained; the bottom of a least-squares hollow is flat.
    ['projective', fitProjective, projective, 1e-5],
  ] as const)('%s', (_, placed, want, tolerance) => {
    if (want === undefined) return expect(() => placed(ties)).toThrow(/Four tie points at least/)
    const { placement, residualsM, rmsM } = placed(ties)
    residualsM.forEach((residual, i) => {
      expect(Math.abs(residual - want.residualsM[i]!)).toBeLessThan(tolerance)
    })
    if (want.rmsM === null) expect(rmsM).toBeNull()
    else expect(Math.abs(rmsM! - want.rmsM)).toBeLessThan(tolerance)
    groundAt(placement, ...probe).forEach((value, i) => {
      expect(Math.abs(value - want.probe[i]!)).toBeLessThan(tolerance)
    })
  })
})

const anyTurn = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true })
const share = fc.double({ min: 0, max: 1, noNaN: true })
/** Points spread over a picture of 4000 x 3000: one in each of nine fields. */
const spread = fc
  .array(fc.tuple(share, share), { minLength: 9, maxLength: 9 })
  .map((shares) =>
    shares.map(([a, b], i): [number, number] => [
      ((i % 3) + 0.8 * a) * 1333,
      (Math.floor(i / 3) + 0.8 * b) * 1000,
    ]),
  )

test('exact points are met exactly, there and back', () => {
  fc.assert(
    fc.property(
      spread,
      anyTurn,
      fc.double({ min: 0.02, max: 2, noNaN: true }),
      fc.double({ min: -1.2e-4, max: 1.2e-4, noNaN: true }),
      fc.double({ min: -1.2e-4, max: 1.2e-4, noNaN: true }),
      (places, turn, scale, tiltX, tiltY) => {
        const [c, s] = [scale * Math.cos(turn), scale * Math.sin(turn)]
        const ground = (x: number, y: number, tilted: boolean): [number, number] => {
          const w = tilted ? 1 + tiltX * x + tiltY * y : 1
          return [558_500 + (c * x + s * y) / w, 347_500 + (s * x - c * y) / w]
        }
        for (const [tilted, placed] of [
          [false, fitAffine],
          [true, fitProjective],
        ] as const) {
          const { placement, residualsM, rmsM } = placed(
            places.map(([x, y]) => point(x, y, ...ground(x, y, tilted))),
          )
          expect(Math.max(...residualsM, rmsM!)).toBeLessThan(1e-6)
          const [easting, northing] = ground(2000, 1400, tilted)
          const [e, n] = groundAt(placement, 2000, 1400)
          expect(Math.hypot(e - easting, n - northing)).toBeLessThan(1e-6)
          const [x, y] = pictureAt(placement, e, n)
          expect(Math.hypot(x - 2000, y - 1400)).toBeLessThan(1e-5)
        }
      },
    ),
  )
})

test('moved, turned and scaled points give the moved, turned and scaled answer', () => {
  const noise = fc.array(fc.tuple(share, share), { minLength: 9, maxLength: 9 })
  const shift = fc.double({ min: -5e5, max: 5e5, noNaN: true })
  fc.assert(
    fc.property(
      spread,
      noise,
      anyTurn,
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      shift,
      shift,
      (places, off, turn, scale, east, north) => {
        const ties = places.map(([x, y], i) =>
          point(x, y, 0.2 * x + 3 * off[i]![0], -0.2 * y + 3 * off[i]![1]),
        )
        const [c, s] = [scale * Math.cos(turn), scale * Math.sin(turn)]
        const moved = (e: number, n: number): [number, number] => [
          east + c * e - s * n,
          north + s * e + c * n,
        ]
        // The picture too is turned by a quarter, as a scanner does: column, row to 3000 - row, column.
        const others = ties.map((tie) =>
          point(3000 - tie.row, tie.column, ...moved(tie.easting, tie.northing)),
        )
        for (const placed of [fitAffine, fitProjective]) {
          const [before, after] = [placed(ties), placed(others)]
          expect(Math.abs(after.rmsM! - scale * before.rmsM!)).toBeLessThan(1e-5 * scale)
          const [e, n] = groundAt(after.placement, 3000 - 900, 1700)
          const [wantE, wantN] = moved(...groundAt(before.placement, 1700, 900))
          expect(Math.hypot(e - wantE, n - wantN)).toBeLessThan(1e-4 * scale)
        }
      },
    ),
  )
})

test('the projective fit leaves no greater squares than the affine one', () => {
  for (const { points } of cases) {
    const ties = points.map(([column, row, easting, northing]) => point(column!, row!, easting!, northing!))
    if (ties.length < 4) continue
    const squares = ({ residualsM }: { residualsM: number[] }): number =>
      residualsM.reduce((sum, residual) => sum + residual * residual, 0)
    expect(squares(fitProjective(ties))).toBeLessThanOrEqual(squares(fitAffine(ties)) + 1e-12)
  }
})

describe('points that do not pin the picture down', () => {
  const corners = [point(0, 0, 0, 0), point(900, 0, 90, 0), point(900, 700, 90, -70), point(0, 700, 0, -70)]
  const [a, b, c, d] = corners as [TiePoint, TiePoint, TiePoint, TiePoint]
  const refusal = (placed: (points: TiePoint[]) => unknown, points: TiePoint[]): string => {
    try {
      placed(points)
    } catch (error) {
      if (isSurveyError(error) && error.code === 'tie-points-weak') return error.message
      throw error
    }
    return 'none'
  }
  test.each<[string, (points: TiePoint[]) => unknown, TiePoint[], string]>([
    ['two', fitAffine, [a, b], 'Three tie points at least are needed; there are 2.'],
    [
      'three for a projective placing',
      fitProjective,
      [a, b, c],
      'Four tie points at least are needed; there are 3.',
    ],
    [
      'one given twice',
      fitAffine,
      [a, b, c, { ...b }],
      'Tie points 2 and 4 are at the same spot in the picture',
    ],
    [
      'two on one spot of the ground',
      fitAffine,
      [a, b, c, { ...d, easting: 90, northing: 0 }],
      'Tie points 2 and 4 are at the same spot on the ground',
    ],
    ['on a line', fitAffine, [a, point(450, 350, 45, -35), c], 'lie on one line in the picture'],
    [
      'on a line on the ground only',
      fitAffine,
      [a, b, { ...c, northing: 0, easting: 45 }],
      'lie on one line on the ground',
    ],
    [
      'all but one on a line',
      fitProjective,
      [a, b, c, point(450, 0, 45, 0)],
      'All tie points but number 3 lie on one line',
    ],
    [
      'exchanged',
      fitProjective,
      [a, b, { ...c, easting: d.easting }, { ...d, easting: c.easting }],
      'its horizon would run between them',
    ],
  ])('%s', (_, fit, points, sentence) => {
    expect(refusal(fit, points)).toContain(sentence)
  })

  test('a thousandth of the spread aside is not twice, and a fiftieth to the side is no line', () => {
    expect(refusal(fitAffine, [a, b, c, { ...b, row: 3, northing: -0.3 }])).toBe('none')
    expect(refusal(fitAffine, [a, b, point(450, 40, 45, -4)])).toBe('none')
  })

  test('what is not a number is a wrong call', () => {
    expect(() => fitAffine([a, b, { ...c, row: Number.NaN }])).toThrow(RangeError)
  })
})

test('lines as a file gives them, there and back', () => {
  const lines = {
    easting: 558_000,
    northing: 347_500,
    eastingPerColumn: 0.3,
    northingPerColumn: 0.4,
    eastingPerRow: 0.4,
    northingPerRow: -0.3,
  }
  const placement = placementFromLines(lines)
  expect(groundAt(placement, 10, 20)).toEqual([expect.closeTo(558_011, 9), expect.closeTo(347_498, 9)])
  expect(pictureAt(placement, 558_011, 347_498)).toEqual([expect.closeTo(10, 9), expect.closeTo(20, 9)])
  expect(() => placementFromLines({ ...lines, eastingPerRow: 0.6, northingPerRow: 0.8 })).toThrow(RangeError)
})
