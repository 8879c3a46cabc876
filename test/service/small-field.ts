import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { onTestFinished } from 'vitest'

/** A folder of its own for one test, gone when the test has ended. */
export function testFolder(): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'lynchet-service-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** Writes a file into a folder and gives its path. */
export function put(folder: string, name: string, content: string | Uint8Array): string {
  const file = path.join(folder, name)
  writeFileSync(file, content)
  return file
}

/** A walk of 100 m straight to grid north at `easting`, half a metre a second, as plain eastings and northings. */
export function straightWalk(easting = 558_010, firstSecond = 0): string {
  const fixes = Array.from({ length: 101 }, (_, i) => {
    const time = new Date(Date.UTC(2026, 8, 12, 9, 0, firstSecond + 2 * i)).toISOString()
    return `${easting},${347_000 + i},${time}`
  })
  return ['easting,northing,time', ...fixes, ''].join('\n')
}

const degrees = (corners: readonly (readonly [number, number])[]): object => ({
  type: 'Polygon',
  coordinates: [[...corners, corners[0]]],
})

/** A GeoJSON of one polygon by its corners, longitude and latitude. */
export function polygonFile(name: string, ...corners: readonly (readonly [number, number])[]): string {
  const feature = { type: 'Feature', properties: { name }, geometry: degrees(corners) }
  return JSON.stringify({ type: 'FeatureCollection', features: [feature] })
}

/** Corners of the field of 20 m by 100 m in which the straight walk is the middle line, British National Grid. */
export const fieldCorners: [number, number][] = [
  [558_000, 347_000],
  [558_020, 347_000],
  [558_020, 347_100],
  [558_000, 347_100],
  [558_000, 347_000],
]

/** Three findspots: two in the field, one 10 m west of it. */
export const findsTable =
  'easting,northing,object,material,number\n558010,347020,buckle,copper alloy,\n558011,347050,musket ball,lead,\n557990,347050,thimble,,\n'
