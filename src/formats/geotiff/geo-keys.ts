import { systemOfKeys } from './key-system.ts'
import { numbersAt, type TiffBytes, type TiffDirectory, textAt } from './tiff-directory.ts'

/** What the GeoKeys of a TIFF state. */
export interface GeoSystem {
  readonly epsg: number | null
  /** Well-known text, where the file keeps one in a citation and names no code. */
  readonly systemText: string | null
  /** What it calls its system, for sentences; empty where it does not. */
  readonly citation: string
  /** True where a pixel's place is that of its middle. */
  readonly pixelIsPoint: boolean
  /** True where it states a system of heights, or their unit. */
  readonly heights: boolean
  /** EPSG code of the unit of heights; null where none is stated. */
  readonly heightUnit: number | null
}

const userDefined = 32_767
const mostKeys = 65_536

/**
 * Reads the keys of a GeoTIFF. A code is only taken where it is one; of systems without, a text in a citation is, and a transverse Mercator grid whose keys are all there.
 * Source  OGC GeoTIFF 1.1 (19-008r4), 7.1 and annex C. Faults: TiffTrouble where a table lies beyond the file.
 */
export function geoSystem(bytes: TiffBytes, directory: TiffDirectory): GeoSystem {
  const table = numbersAt(bytes, directory, 34_735, mostKeys)
  const texts = textAt(bytes, directory, 34_737)
  const figures = numbersAt(bytes, directory, 34_736, mostKeys)
  const codes = new Map<number, number>()
  const words = new Map<number, string>()
  const numbers = new Map<number, readonly number[]>()
  for (let at = 4; at + 3 < table.length && at < 4 + 4 * (table[3] ?? 0); at += 4) {
    const [key, place, count, value] = table.subarray(at, at + 4) as unknown as [
      number,
      number,
      number,
      number,
    ]
    if (place === 0) codes.set(key, value)
    else if (place === 34_736) numbers.set(key, [...figures.subarray(value, value + count)])
    else if (place === 34_737) words.set(key, texts.slice(value, value + count).replace(/[|\0]+$/, ''))
  }
  const model = codes.get(1024)
  const code = codes.get(model === 2 ? 2048 : 3072) ?? codes.get(model === 2 ? 3072 : 2048)
  const epsg = code !== undefined && code >= 1024 && code < userDefined ? code : null
  const citations = [3073, 1026, 2049].map((key) => words.get(key) ?? '')
  const text =
    citations.map(wellKnownText).find((each) => each !== null) ?? systemOfKeys({ codes, numbers, words })
  return {
    epsg: model === 3 ? null : epsg,
    systemText: epsg === null ? text : null,
    citation: citations.find((each) => each !== '') ?? '',
    pixelIsPoint: codes.get(1025) === 2,
    heights: codes.has(4096) || codes.has(4099),
    heightUnit: codes.get(4099) ?? null,
  }
}

/** Programs that know no code put the text of a .prj file into a citation, some behind `ESRI PE String = `. */
function wellKnownText(citation: string): string | null {
  return /(?:PROJCS|GEOGCS|COMPD_CS)\s*\[.*\]/s.exec(citation)?.[0] ?? null
}
