import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { type FileFault, SurveyError } from '#core/faults'
import { groundAt } from '#core/imagery'
import { leastDiameterPx, type PitCandidate, type RingCandidate, type RingSettings } from '#core/marks'
import { linesInThreads, pitsInThreads, ringsInThreads, type WorkOptions } from '#work'
import { writeOut } from './export.ts'
import { type LineWishes, lineSettings, type PlacedLine, placedLine } from './lines-of-file.ts'
import { marksGeoJson } from './marks-geojson.ts'
import { type Ground, groundOf } from './marks-ground.ts'
import { type MarksRaster, marksRaster } from './marks-raster.ts'

/** File and settings of `lynchet marks`. */
export type MarksWishes = AnyWishes & (RoundWishes | LineWishes)

interface RoundWishes {
  readonly kind: 'ring' | 'pit'
  /** Metres; pixels where the raster names no coordinate system. */
  readonly diameter: { readonly from: number; readonly to: number }
}

interface AnyWishes {
  readonly raster: string
  readonly tone: RingSettings['tone']
  readonly most: number
  readonly view: string
  /** File for the candidates as GeoJSON, and whose coordinates it has. */
  readonly out?: string
  readonly outSystem: 'wgs84' | 'layer'
}

/** A candidate on the ground: x and y are easting and northing in the raster's system, or pixels where it names none; lengths likewise. */
interface PlacedCandidate {
  readonly kind: RoundWishes['kind']
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
  readonly candidates: readonly (PlacedCandidate | PlacedLine)[]
  /** What lengths and places are in. */
  readonly unit: 'metres' | 'pixels'
  readonly epsg: number | null
  /** Metres; null where it is not known. */
  readonly pixelM: number | null
  readonly seconds: number
  readonly written: string | null
  readonly faults: readonly FileFault[]
}

/**
 * Ring, pit or line candidates in a raster file; no survey is needed.
 * Faults: those of reading the file; SurveyError 'setting-out-of-range', 'flat-raster', 'raster-too-large', 'unknown-system', 'cannot-write', 'cancelled'.
 */
export async function marksOfFile(wishes: MarksWishes, options: WorkOptions = {}): Promise<MarksOfFile> {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-marks-'))
  try {
    const raster = await marksRaster(wishes.raster, wishes.view, folder, options)
    const name = path.basename(wishes.raster)
    const ground = groundOf(name, raster)
    if (!ground && wishes.out !== undefined) throw noPlaceFor(wishes.out, name)
    const started = performance.now()
    const { candidates: placed, flat } = await found(name, wishes, raster, ground, options)
    const seconds = (performance.now() - started) / 1000
    if (flat) {
      const sentence = `${name} has nothing to look at: no data, or the same value everywhere; check its no-data value and the view.`
      throw new SurveyError('flat-raster', sentence)
    }
    if (wishes.out !== undefined && ground)
      writeOut(wishes.out, marksGeoJson(placed, ground, wishes.outSystem))
    return {
      candidates: placed,
      unit: ground ? 'metres' : 'pixels',
      epsg: ground?.epsg ?? null,
      pixelM: ground?.pixelM ?? null,
      seconds,
      written: wishes.out ?? null,
      faults: [
        ...raster.faults,
        ...(ground
          ? []
          : [unplaced(name, wishes.kind === 'line' ? 'widths and lengths' : 'diameters', raster)]),
      ],
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

async function found(
  name: string,
  wishes: MarksWishes,
  raster: MarksRaster,
  ground: Ground | null,
  options: WorkOptions,
): Promise<Pick<MarksOfFile, 'candidates'> & { readonly flat: boolean }> {
  const { blocks, columns, rows } = raster
  if (wishes.kind === 'line') {
    const settings = lineSettings(name, wishes, raster, ground?.pixelM ?? null)
    const { candidates, flat } = await linesInThreads({ blocks, columns, rows, settings }, options)
    return { candidates: candidates.map((candidate) => placedLine(candidate, ground)), flat }
  }
  const input = { blocks, columns, rows, settings: settingsFor(name, wishes, raster, ground) }
  const { candidates, flat } = await (wishes.kind === 'pit'
    ? pitsInThreads(input, options)
    : ringsInThreads(input, options))
  return { candidates: candidates.map((candidate) => placedOn(candidate, ground)), flat }
}

function unplaced(name: string, of: string, { placement, epsg, systemText }: MarksRaster): FileFault {
  const why =
    placement === null
      ? 'does not say where it lies'
      : epsg === null && systemText === null
        ? 'names no coordinate system'
        : 'names a coordinate system that is not known here'
  const text = `${name} ${why}: ${of} were taken as pixels, and places are pixels from its upper left corner.`
  return { line: null, code: 'unknown-system', text }
}

function noPlaceFor(out: string, name: string): SurveyError {
  const sentence = `${out} was not written: ${name} does not say where it lies in a known coordinate system, and GeoJSON needs a place; give it a world file and a .prj file.`
  return new SurveyError('unknown-system', sentence)
}

/** Faults: SurveyError 'setting-out-of-range' for diameters that the raster cannot show. */
function settingsFor(
  name: string,
  { kind, diameter, tone, most }: AnyWishes & RoundWishes,
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
