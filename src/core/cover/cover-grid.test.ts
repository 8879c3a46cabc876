import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PlanarArea } from '#core/geometry'
import { type PlanarTrack, sweptLegs } from '#core/track'
import { areaOf, box, track } from '../../../test/cover/planar-shapes.ts'
import {
  type CoverGrid,
  type CoverOptions,
  coverGrid,
  coverTiles,
  gridOf,
  joinTallies,
  mostPasses,
  outsideArea,
  prepareCover,
} from './index.ts'
import { centreEast, centreNorth } from './lattice.ts'

const limits = { maxJumpM: 1000, maxJumpS: 60 }
const options = (widthM: number, cellM: number): CoverOptions => ({ ...limits, widthM, cellM })
/** Passes over one cell by their definition: contiguous times in which the disc about the walker touches the cell. */
function passesOver(tracks: readonly PlanarTrack[], x: number, y: number, radius: number): number {
  let passes = 0
  for (const each of tracks) {
    const { kind } = sweptLegs(each, limits)
    let touchingAtEnd = false
    for (let i = 0; i < kind.length; i++) {
      const [ax, ay] = [each.xy[2 * i]! - x, each.xy[2 * i + 1]! - y]
      if (kind[i] === 2 && ax * ax + ay * ay < radius * radius) passes++
      if (kind[i] !== 1) {
        touchingAtEnd = false
        continue
      }
      const [dx, dy] = [each.xy[2 * i + 2]! - x - ax, each.xy[2 * i + 3]! - y - ay]
      // |a + t d| < radius between the roots of a quadratic in t, the part of the leg walked.
      const [square, linear, rest] = [
        dx * dx + dy * dy,
        ax * dx + ay * dy,
        ax * ax + ay * ay - radius * radius,
      ]
      const root = linear * linear - square * rest
      const from = square === 0 ? (rest < 0 ? 0 : 2) : (-linear - Math.sqrt(root)) / square
      const to = square === 0 ? (rest < 0 ? 1 : -1) : (-linear + Math.sqrt(root)) / square
      const touches = (square === 0 || root > 0) && from < 1 && to > 0
      if (touches && !(touchingAtEnd && from <= 0)) passes++
      touchingAtEnd = touches && to >= 1
    }
  }
  return passes
}

function isInside(area: PlanarArea, x: number, y: number): boolean {
  return area.polygons.some(({ rings }) => {
    let inside = false
    for (const ring of rings) {
      for (let i = 0; i + 3 < ring.length; i += 2) {
        const [x0, y0, x1, y1] = [ring[i]!, ring[i + 1]!, ring[i + 2]!, ring[i + 3]!]
        if (y0 > y !== y1 > y && x < x0 + ((y - y0) * (x1 - x0)) / (y1 - y0)) inside = !inside
      }
    }
    return inside
  })
}

function expectedPasses(
  grid: CoverGrid,
  tracks: readonly PlanarTrack[],
  area: PlanarArea,
  widthM: number,
): number[] {
  return Array.from(grid.passes, (_, cell) => {
    const column = Math.round(grid.west / grid.cellM) + (cell % grid.columns)
    const row = Math.round(grid.north / grid.cellM) - 1 - Math.floor(cell / grid.columns)
    const x = (column + centreEast) * grid.cellM
    const y = (row + centreNorth) * grid.cellM
    return isInside(area, x, y) ? passesOver(tracks, x, y, widthM / 2) : outsideArea
  })
}

/** Places on a lattice, where ties are common, or anywhere. */
const anyPlace = (size: number) =>
  fc.oneof(
    fc.integer({ min: -8, max: size * 4 + 8 }).map((quarters) => quarters / 4),
    fc.double({ min: -2, max: size + 2, noNaN: true }),
  )
const anyWalk = (size: number, fixes = 12) =>
  fc
    .array(fc.tuple(anyPlace(size), anyPlace(size)), { minLength: 1, maxLength: fixes })
    .map((places) => places.flat())
const anyWidth = fc.oneof(fc.constantFrom(0.5, 1, 1.5, 2), fc.double({ min: 0.05, max: 6, noNaN: true }))
const moved = (xy: ArrayLike<number>, dx: number, dy: number): number[] =>
  Array.from(xy, (value, i) => value + (i % 2 === 0 ? dx : dy))

describe('against a sum by hand for every cell', () => {
  const field = areaOf(
    Float64Array.from(moved([0, 0, 12, 1, 11, 11.5, 6, 8, 0.5, 12, 0, 0], 1000, 2000)),
    Float64Array.from(moved([3, 3, 5, 3, 5, 5, 3, 5, 3, 3], 1000, 2000)),
  )
  test('any walk, width and cell gives the same passes', () => {
    fc.assert(
      fc.property(
        anyWalk(12),
        anyWalk(12, 4),
        fc.nat(12),
        anyWidth,
        fc.constantFrom(0.25, 0.5, 0.7),
        (a, b, cut, widthM, cellM) => {
          const tracks = [
            track(moved(a, 1000, 2000), cut > 0 && cut < a.length / 2 ? [0, cut] : [0]),
            track(moved(b, 1000, 2000)),
          ]
          const grid = coverGrid(tracks, field, options(widthM, cellM))
          expect([...grid.passes]).toEqual(expectedPasses(grid, tracks, field, widthM))
          const inside = grid.passes.filter((passes) => passes !== outsideArea)
          expect(grid.areaCells).toBe(inside.length)
          expect(grid.coveredCells).toBe(inside.filter((passes) => passes > 0).length)
          expect(grid.passSum).toBe(inside.reduce((sum, passes) => sum + passes, 0))
          expect(grid.passMax).toBe(inside.reduce((most, passes) => Math.max(most, passes), 0))
        },
      ),
      { numRuns: 300 },
    )
  })
})

describe('what must not change the answer', () => {
  const field = areaOf(box(0, 0, 20, 20))

  test('walking the other way', () => {
    fc.assert(
      fc.property(anyWalk(20), anyWidth, (xy, widthM) => {
        const back = Array.from({ length: xy.length / 2 }, (_, i) => xy.slice(-2 * i - 2).slice(0, 2)).flat()
        const there = coverGrid([track(xy)], field, options(widthM, 0.5))
        expect(coverGrid([track(back)], field, options(widthM, 0.5)).passes).toEqual(there.passes)
      }),
    )
  })

  test('more fixes on the same lines', () => {
    fc.assert(
      fc.property(anyWalk(20), anyWidth, fc.integer({ min: 1, max: 7 }), (xy, widthM, eighths) => {
        const more: number[] = []
        for (let i = 0; i < xy.length; i += 2) {
          more.push(xy[i]!, xy[i + 1]!)
          const t = eighths / 8
          if (i + 2 < xy.length)
            more.push(xy[i]! + t * (xy[i + 2]! - xy[i]!), xy[i + 1]! + t * (xy[i + 3]! - xy[i + 1]!))
        }
        const few = coverGrid([track(xy)], field, options(widthM, 0.5))
        expect(coverGrid([track(more)], field, options(widthM, 0.5)).passes).toEqual(few.passes)
      }),
    )
  })

  test('moving everything by whole cells', () => {
    const anyShift = fc.integer({ min: -2_000_000, max: 2_000_000 })
    fc.assert(
      fc.property(anyWalk(20), anyWidth, anyShift, anyShift, (xy, widthM, east, north) => {
        // Quarter cells stay exact wherever they are moved to.
        const snapped = xy.map((value) => Math.round(value * 64) / 64)
        const here = coverGrid([track(snapped)], field, options(widthM, 0.25))
        const [dx, dy] = [east * 0.25, north * 0.25]
        const there = coverGrid(
          [track(moved(snapped, dx, dy))],
          areaOf(box(dx, dy, 20 + dx, 20 + dy)),
          options(widthM, 0.25),
        )
        expect(there).toEqual({ ...here, west: here.west + dx, north: here.north + dy })
      }),
    )
  })

  test('how far the grid reaches', () => {
    fc.assert(
      fc.property(anyWalk(20), anyWidth, fc.double({ min: 0.1, max: 9, noNaN: true }), (xy, widthM, more) => {
        const near = coverGrid([track(xy)], field, options(widthM, 0.3))
        const wide = coverGrid([track(xy)], areaOf(box(-more, -more, 20 + more, 20)), options(widthM, 0.3))
        const skip = Math.round((near.west - wide.west) / 0.3)
        for (let r = 0; r < near.rows; r++) {
          for (let c = 0; c < near.columns; c++) {
            const value = near.passes[r * near.columns + c]!
            if (value !== outsideArea) expect(wide.passes[r * wide.columns + c + skip]).toBe(value)
          }
        }
      }),
      { numRuns: 30 },
    )
  })

  test('how the tiles are shared out', () => {
    const long = areaOf(box(0, 0, 5, 300))
    const walk = fc.array(fc.tuple(anyPlace(5), anyPlace(300)), { minLength: 2, maxLength: 200 })
    fc.assert(
      fc.property(walk, anyWidth, fc.array(fc.nat(5)), (places, widthM, cuts) => {
        const plan = prepareCover([track(places.flat())], long, options(widthM, 0.25))
        expect(plan.tiles).toBeGreaterThan(5)
        const whole = new Uint8Array(plan.rows * plan.columns)
        const tally = coverTiles(plan, 0, plan.tiles, whole)
        const parts = new Uint8Array(new SharedArrayBuffer(whole.length))
        const ends = [...new Set([0, ...cuts, plan.tiles])].sort((a, b) => b - a)
        const tallies = ends.slice(1).map((from, i) => coverTiles(plan, from, ends[i]!, parts))
        expect(Uint8Array.from(parts)).toEqual(whole)
        expect(tallies.reduce(joinTallies)).toEqual(tally)
        expect(gridOf(plan, whole, tally)).toEqual(
          coverGrid([track(places.flat())], long, options(widthM, 0.25)),
        )
      }),
      { numRuns: 20 },
    )
  })
})

describe('shares', () => {
  const field = areaOf(box(0, 0, 20, 20))
  const share = (grid: CoverGrid): number => grid.coveredCells / grid.areaCells

  test('a wider swath never covers less', () => {
    fc.assert(
      fc.property(anyWalk(20), anyWidth, anyWidth, (xy, a, b) => {
        const narrow = coverGrid([track(xy)], field, options(Math.min(a, b), 0.5))
        const wide = coverGrid([track(xy)], field, options(Math.max(a, b), 0.5))
        expect(narrow.passes.every((passes, i) => passes === 0 || wide.passes[i]! > 0)).toBe(true)
      }),
    )
  })

  test.each([
    ['north, on cell edges', 561_010, 342_010, 0, 80],
    ['north, on cell centres', 561_010.05, 342_010.05, 0, 80],
    ['east, on cell edges', 561_010, 342_050, 80, 0],
    ['east, on cell centres', 561_010.05, 342_050.05, 80, 0],
  ])('a lane going %s is exactly as wide as the swath', (_, x, y, dx, dy) => {
    // Where the swath is a whole number of cells the share must be that number, whichever way the ties fall.
    const field = areaOf(box(x + dx / 4 - 5, y + dy / 4 - 5, x + dx / 4 + 5, y + dy / 4 + 5))
    for (const widthM of [0.3, 1.2, 1.5, 2]) {
      const grid = coverGrid([track([x, y, x + dx, y + dy])], field, options(widthM, 0.1))
      expect(share(grid)).toBeCloseTo(widthM / 10, 12)
    }
  })

  test('a lane slantwise to the lattice is within a thousandth of the area of the swath', () => {
    const grid = coverGrid(
      [track([0, 0, 200, 200])],
      areaOf(box(50, 50, 150, 150)),
      options(1.5 * Math.SQRT2, 0.1),
    )
    expect(Math.abs(share(grid) * 10_000 - (2 * 150 - 1.5 ** 2) * 1)).toBeLessThan(10)
  })

  test('mean passes are the swept area over the area: distance times width', () => {
    const random = (i: number): number => (Math.sin(i * 12.9898) * 43758.5453) % 1
    const xy = Array.from({ length: 600 }, (_, i) => 50 + 40 * random(i))
    const grid = coverGrid([track(xy)], areaOf(box(0, 0, 100, 100)), options(1.2, 0.1))
    const { distanceM } = sweptLegs(track(xy), limits)
    const swept = distanceM * 1.2 + Math.PI * 0.6 ** 2
    expect(Math.abs((grid.passSum * 0.01) / swept - 1)).toBeLessThan(5e-4)
  })
})

describe('passes', () => {
  const field = areaOf(box(0, 0, 10, 10))
  const over = (x: number, y: number, ...tracks: PlanarTrack[]): number => {
    const grid = coverGrid(tracks, field, options(1, 0.5))
    return grid.passes[(grid.rows - 1 - Math.floor(y / 0.5)) * grid.columns + Math.floor(x / 0.5)]!
  }

  test('out and back on one line is two passes, but one at the turn', () => {
    expect(over(2, 5, track([1, 5, 8, 5, 1, 5]))).toBe(2)
    expect(over(8, 5, track([1, 5, 8, 5, 1, 5]))).toBe(1)
  })

  test('standing still, fixes close together and a repeated fix are one pass', () => {
    expect(over(5, 5, track([5, 5, 5, 5, 5.1, 5, 5, 5.1, 5, 5]))).toBe(1)
  })

  test('two tracks and two segments over a cell are two passes', () => {
    expect(over(5, 5, track([1, 5, 9, 5]), track([5, 1, 5, 9]))).toBe(2)
    expect(over(5, 5, track([1, 5, 9, 5, 5, 1, 5, 9], [0, 2]))).toBe(2)
  })

  test('a lone fix senses a disc, and so do many fixes at one spot', () => {
    const disc = coverGrid([track([5, 5])], field, options(4, 0.05))
    expect(disc.coveredCells * 0.0025).toBeCloseTo(Math.PI * 4, 1)
    expect(coverGrid([track([5, 5, 5, 5, 5, 5])], field, options(4, 0.05)).passes).toEqual(disc.passes)
  })

  test('no more than 254 are counted', () => {
    const xy = Array.from({ length: 400 }, (_, i) => [i % 2 === 0 ? 1 : 9, 5]).flat()
    const grid = coverGrid([track(xy)], field, options(1, 0.5))
    expect(grid.passMax).toBe(mostPasses)
  })
})

describe('areas', () => {
  test('neighbouring areas share every cell between them and none twice', () => {
    fc.assert(
      fc.property(anyPlace(20), anyPlace(20), (x, y) => {
        const grid = (ring: number[]) =>
          coverGrid(
            [track([0, 0])],
            areaOf(Float64Array.from([...ring, ring[0]!, ring[1]!])),
            options(1, 0.5),
          )
        const size = (ring: number[]): number => grid(ring).areaCells
        const [east, north] = [Math.max(20, x), Math.max(20, y)]
        fc.pre(x > 1 && y > 1 && x < 19 && y < 19)
        const whole = size([0, 0, east, 0, east, north, 0, north])
        const parts = [
          [0, 0, east, 0, x, y],
          [east, 0, east, north, x, y],
          [east, north, 0, north, x, y],
          [0, north, 0, 0, x, y],
        ]
        expect(parts.reduce((sum, ring) => sum + size(ring), 0)).toBe(whole)
      }),
    )
  })

  test('overlapping parts are counted once, and said', () => {
    const area: PlanarArea = {
      epsg: 27700,
      polygons: [{ rings: [box(0, 0, 10, 10)] }, { rings: [box(5, 0, 15, 10)] }],
    }
    const plan = prepareCover([track([0, 0])], area, options(1, 0.5))
    expect(plan.areaM2).toBeCloseTo(150, 9)
    expect(plan.areaNotes.join()).toContain('overlap')
  })

  test('an outline that crosses itself is taken by the even-odd rule, with a note that says where', () => {
    const bow = areaOf(Float64Array.of(0, 0, 10, 10, 10, 0, 0, 10, 0, 0))
    const plan = prepareCover([track([0, 0])], bow, options(1, 0.1))
    expect(plan.areaM2).toBeCloseTo(50, 0)
    expect(plan.areaNotes).toEqual([
      'The outline crosses itself at easting 5.00, northing 5.00. What lies inside was decided by the even-odd rule.',
    ])
  })

  test('an area that no track touches has a share of 0', () => {
    const grid = coverGrid([track([100, 100, 120, 100])], areaOf(box(0, 0, 10, 10)), options(1, 0.5))
    expect(grid).toMatchObject({ areaCells: 400, coveredCells: 0, passSum: 0, passMax: 0 })
  })
})
