import { describe, expect, test } from 'vitest'
import { type LaneWishesGiven, laneFiguresShape, laneLightShape } from '#contract'
import { planarGrid } from '#core/geodesy'
import { lanesOf, lightOn } from '#service'
import { ostn15 } from '#work'
import { areaOf, box, faultOf } from '../cover/planar-shapes.ts'

const grid = planarGrid(27_700, ostn15())
const field = areaOf(box(558_000, 347_000, 558_100, 347_040))
const figures = (wishes: LaneWishesGiven, area = field) => lanesOf(area, grid, wishes).figures

describe('lanes as the desk asks for them', () => {
  test('the account is of the shape that is agreed', () => {
    for (const pattern of ['parallel', 'spiral', 'transects'] as const) {
      const account = figures({ spacingM: 3, pattern })
      expect(laneFiguresShape.parse(account)).toEqual(account)
      expect(account.areaM2).toBeCloseTo(4000, 6)
    }
  })

  test('shares add up to the whole', () => {
    const { plan, shares, figures: account } = lanesOf(field, grid, { spacingM: 2, walkers: 4 })
    const sum = account.walkers.reduce((all, { lengthM }) => all + lengthM, 0)
    expect(sum).toBeCloseTo(account.lengthM, 6)
    expect(account.hours).toBe(Math.max(...account.walkers.map(({ hours }) => hours)))
    expect(account.turns).toBe(plan.laneM.length - shares.length)
  })

  test('more walkers than lanes are told of', () => {
    expect(figures({ spacingM: 30, walkers: 5 }).notes.join()).toContain(
      'more walkers than lanes: 3 of them have none',
    )
  })

  test('a walk between parts that lie apart is told of', () => {
    const apart = {
      ...field,
      polygons: [...field.polygons, { rings: [box(558_200, 347_000, 558_300, 347_040)] }],
    }
    expect(figures({ spacingM: 4, bearing: 90 }, apart).notes.join()).toMatch(
      /1\d\d m of the walk between lanes lies off the search area/,
    )
  })

  test('a slower pace takes longer', () => {
    const pace = { sweepMs: 0.25, walkMs: 1, turnS: 5, workMin: 50, restMin: 10 }
    expect(figures({ spacingM: 2, pace }).hours).toBeGreaterThan(1.9 * figures({ spacingM: 2 }).hours)
  })

  test('what is out of the grid is told in a sentence', () => {
    const out = areaOf(Float64Array.of(0, 0, Number.NaN, Number.NaN, 9, 9, 0, 0))
    expect(faultOf(() => figures({ spacingM: 2 }, out))).toContain(
      'outside-grid: The search area reaches beyond British National Grid',
    )
    expect(() => figures({ spacingM: 0 })).toThrow()
  })
})

describe('the light of a day', () => {
  test('a winter day is too short for long lanes', () => {
    const light = lightOn('2026-12-21', field, grid, 9)
    expect(laneLightShape.parse(light)).toEqual(light)
    expect(light.fits).toBe(false)
    expect(light.hours).toBeGreaterThan(8)
    expect(light.hours).toBeLessThan(9)
    expect(lightOn('2026-06-21', field, grid, 9).fits).toBe(true)
  })

  test('in the far north it is light all day or dark all day', () => {
    const north = planarGrid(32_633, null)
    const area = areaOf(box(500_000, 8_700_000, 500_100, 8_700_100))
    expect(lightOn('2026-06-21', { ...area, epsg: 32_633 }, north, 9)).toMatchObject({
      hours: 24,
      fits: true,
      sun: { rise: null, set: null, all: 'above' },
    })
    expect(lightOn('2026-12-21', { ...area, epsg: 32_633 }, north, 1)).toMatchObject({
      hours: 0,
      fits: false,
      civil: { rise: null, set: null, all: 'below' },
    })
  })

  test.each(['2026-02-30', '21.12.2026', '', '2026-13-01'])('"%s" is no day', (day) => {
    expect(faultOf(() => lightOn(day, field, grid, 1))).toContain('bad-value')
  })
})
