import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { type FileFault, SurveyError } from '#core/faults'
import { planarGrid } from '#core/geodesy'
import { groundAt, type Placement } from '#core/imagery'
import { leastDiameterPx, type PitCandidate, type RingCandidate, type RingSettings } from '#core/marks'
import { ostn15, pitsInThreads, ringsInThreads, type WorkOptions } from '#work'
import { writeOut } from './export.ts'
import { knownSystem } from './layers/ground-system.ts'
import { type MarksRaster, marksRaster } from './marks-raster.ts'

/** File and settings of `lynchet marks`. */
export interface MarksWishes {
  readonly raster: string
  readonly kind: 'ring' | 'pit'
  /** Metres; pixels where the raster names no coordinate system. */
  readonly diameter: { readonly from: number; readonly to: number }
  readonly tone: RingSettings['tone']
  readonly most: number
  readonly view: string
  /** File for the candidates as GeoJSON, and whose coordinates it has. */
  readonly out?: string
  readonly outSystem: 'wgs84' | 'layer'
}

/** A candidate on the ground: x and y are easting and northing in the raster's system, or pixels where it names none; lengths likewise. */
interface PlacedCandidate {
  readonly kind: MarksWishes['kind']
  readonly x: number
  readonly y: number
  readonly diameter: number
  /** This and what else is null is for rings alone. */
  readonly ditchWidth: number | null
  readonly tone: RingCandidate['tone']
  readonly score: number | null
  readonly completeness: number | null
  /** Bearings in degrees from grid north, clockwise. */
  readonly gaps: RingCandidate['gaps']
  readonly ellipticity: number | null
  readonly contrast: number
  /** Null where the size of a pixel is not known. */
  readonly falseAlarmsPerKm2: number | null
  readonly falseAlarmsPerMpx: number
}

export interface MarksOfFile {
  readonly candidates: readonly PlacedCandidate[]
  /** What lengths and places are in. */
  readonly unit: 'metres' | 'pixels'
  readonly epsg: number | null
  /** Metres; null where it is not known. */
  readonly pixelM: number | null
  readonly seconds: number
  readonly written: string | null
  readonly faults: readonly FileFault[]
}

/** How the pixels of a raster lie on the ground, for work in them. */
interface Ground {
  readonly placement: Placement
  readonly pixelM: number
  /** Degrees to be added to a bearing from the pixels' up to get one from grid north. */
  readonly turnDeg: number
  readonly toWgs84: (xy: Float64Array) => void
  readonly epsg: number | null
}

/** Pixels may differ by this share in width and height before a circle on the ground is no circle in them. */
const squareWithin = 0.02

/**
 * Ring or pit candidates in a raster file; no survey is needed.
 * Faults: those of reading the file; SurveyError 'setting-out-of-range', 'flat-raster', 'raster-too-large', 'unknown-system', 'cannot-write', 'cancelled'.
 */
export async function marksOfFile(wishes: MarksWishes, options: WorkOptions = {}): Promise<MarksOfFile> {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-marks-'))
  try {
    const raster = await marksRaster(wishes.raster, wishes.view, folder, options)
    const name = path.basename(wishes.raster)
    const ground = groundOf(name, raster)
    if (!ground && wishes.out !== undefined) throw noPlaceFor(wishes.out, name)
    const settings = settingsFor(name, wishes, raster, ground)
    const started = performance.now()
    const { blocks, columns, rows } = raster
    const input = { blocks, columns, rows, settings }
    const { candidates, flat } = await (wishes.kind === 'pit'
      ? pitsInThreads(input, options)
      : ringsInThreads(input, options))
    const seconds = (performance.now() - started) / 1000
    if (flat) {
      const sentence = `${name} has nothing to look at: no data, or the same value everywhere; check its no-data value and the view.`
      throw new SurveyError('flat-raster', sentence)
    }
    const placed = candidates.map((candidate) => placedOn(candidate, ground))
    if (wishes.out !== undefined && ground) writeOut(wishes.out, geoJson(placed, ground, wishes.outSystem))
    return {
      candidates: placed,
      unit: ground ? 'metres' : 'pixels',
      epsg: ground?.epsg ?? null,
      pixelM: ground?.pixelM ?? null,
      seconds,
      written: wishes.out ?? null,
      faults: [...raster.faults, ...(ground ? [] : [unplaced(name, raster)])],
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function groundOf(name: string, { placement, epsg, systemText }: MarksRaster): Ground | null {
  const system = knownSystem(epsg, systemText)
  if (!placement || !system) return null
  if (system.degrees) {
    const sentence = `${name} is in degrees, in which a circle on the ground is none; bring it into a grid in metres first (British National Grid, UTM).`
    throw new SurveyError('unknown-system', sentence)
  }
  const [a, b, , d, e] = placement.toGround as [number, number, number, number, number]
  const [wide, tall] = [Math.hypot(a, d), Math.hypot(b, e)]
  const skew = Math.abs(a * b + d * e) / (wide * tall)
  if (Math.abs(wide / tall - 1) > squareWithin || skew > squareWithin) {
    const sentence = `The pixels of ${name} are not square on the ground (${wide.toPrecision(4)} by ${tall.toPrecision(4)} m); resample it to square ones first.`
    throw new SurveyError('unsupported-feature', sentence)
  }
  const toWgs84 = (xy: Float64Array): void => {
    system.convert?.(xy, xy)
    if (system.epsg !== 4326) planarGrid(system.epsg, ostn15()).inverse(xy, xy)
  }
  // Up is the direction against a row.
  const turnDeg = (Math.atan2(-b, -e) * 180) / Math.PI
  return {
    placement,
    pixelM: Math.sqrt(wide * tall),
    turnDeg,
    toWgs84,
    epsg: system.convert ? epsg : system.epsg,
  }
}

function unplaced(name: string, { placement, epsg, systemText }: MarksRaster): FileFault {
  const why =
    placement === null
      ? 'does not say where it lies'
      : epsg === null && systemText === null
        ? 'names no coordinate system'
        : 'names a coordinate system that is not known here'
  const text = `${name} ${why}: diameters were taken as pixels, and places are pixels from its upper left corner.`
  return { line: null, code: 'unknown-system', text }
}

function noPlaceFor(out: string, name: string): SurveyError {
  const sentence = `${out} was not written: ${name} does not say where it lies in a known coordinate system, and GeoJSON needs a place; give it a world file and a .prj file.`
  return new SurveyError('unknown-system', sentence)
}

/** Faults: SurveyError 'setting-out-of-range' for diameters that the raster cannot show. */
function settingsFor(
  name: string,
  { kind, diameter, tone, most }: MarksWishes,
  { columns, rows }: MarksRaster,
  ground: Ground | null,
): RingSettings {
  const pixel = ground?.pixelM ?? 1
  const unit = ground ? 'm' : 'pixels'
  const fail = (sentence: string): never => {
    throw new SurveyError('setting-out-of-range', sentence)
  }
  const plain = (value: number): string => `${Number(value.toPrecision(3))} ${unit}`
  const { from, to } = diameter
  if (from > to) fail(`The range of diameters is reversed: ${from} to ${to}; give the smaller one first.`)
  const least = leastDiameterPx * pixel
  const largest = Math.min(columns, rows) * pixel
  if (from < least) {
    const size = `the smallest ${kind} that it can show is ${plain(least)} across, not ${from}${ground ? ' m' : ''}.`
    fail(
      ground
        ? `${name} has pixels of ${plain(pixel)}, so ${size}`
        : `${name} names no size of its pixels: ${size}`,
    )
  }
  if (to > largest) {
    fail(
      `${name} is ${plain(largest)} across its shorter side, so no ${kind} of ${plain(to)} fits into it; ask for less.`,
    )
  }
  return { minDiameterPx: from / pixel, maxDiameterPx: to / pixel, tone, most }
}

function placedOn(candidate: RingCandidate | PitCandidate, ground: Ground | null): PlacedCandidate {
  const { x, y, diameter, tone, contrast, falseAlarmsPerMpx } = candidate
  const ring = 'ditchWidth' in candidate ? candidate : null
  const ditchWidth = ring?.ditchWidth ?? null
  const gaps = ring?.gaps ?? []
  const rest = {
    kind: ring ? ('ring' as const) : ('pit' as const),
    tone,
    score: ring?.score ?? null,
    completeness: ring?.completeness ?? null,
    ellipticity: ring?.ellipticity ?? null,
    contrast,
    falseAlarmsPerMpx,
  }
  if (!ground) return { x, y, diameter, ditchWidth, ...rest, gaps, falseAlarmsPerKm2: null }
  const { placement, pixelM, turnDeg } = ground
  const [east, north] = groundAt(placement, x, y)
  const turned = (bearing: number): number => (((bearing + turnDeg) % 360) + 360) % 360
  return {
    x: east,
    y: north,
    diameter: diameter * pixelM,
    ditchWidth: ditchWidth === null ? null : ditchWidth * pixelM,
    ...rest,
    gaps: gaps.map(({ fromDeg, toDeg }) => {
      const from = turned(fromDeg)
      return { fromDeg: from, toDeg: from + toDeg - fromDeg }
    }),
    // A million pixels are pixelM^2 square kilometres.
    falseAlarmsPerKm2: falseAlarmsPerMpx / (pixelM * pixelM),
  }
}

/** RFC 7946 on WGS84; in the raster's own system with the member `crs` of GeoJSON 2008, which GIS programs read. */
function geoJson(
  candidates: readonly PlacedCandidate[],
  ground: Ground,
  system: MarksWishes['outSystem'],
): string {
  const xy = Float64Array.from(candidates.flatMap(({ x, y }) => [x, y]))
  if (system === 'wgs84') ground.toWgs84(xy)
  else if (ground.epsg === null) {
    throw new SurveyError(
      'unknown-system',
      'The system of the raster has no EPSG code, so it cannot be named in GeoJSON; write WGS84.',
    )
  }
  const digits = system === 'wgs84' ? 8 : 3
  const features = candidates.map((candidate, i) => ({
    type: 'Feature',
    geometry: {
      type: 'Point',
      coordinates: [Number(xy[2 * i]!.toFixed(digits)), Number(xy[2 * i + 1]!.toFixed(digits))],
    },
    properties: { ...candidate, rank: i + 1 },
  }))
  const crs =
    system === 'wgs84'
      ? {}
      : { crs: { type: 'name', properties: { name: `urn:ogc:def:crs:EPSG::${ground.epsg}` } } }
  return `${JSON.stringify({ type: 'FeatureCollection', ...crs, features })}\n`
}
