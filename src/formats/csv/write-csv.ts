import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { fixedDecimal } from '#formats/decimal'
import { type Features, findTexts, requireLonLat } from '#formats/features'
import { isoText } from '#formats/time'
import { type Cell, csvTable, numberCell, textCell } from './csv-table.ts'

/** Columns easting, northing and epsg beside lat and lon. */
export interface PlanarColumns {
  readonly epsg: number
  /** Metres of that grid from degrees. */
  readonly of: (lon: number, lat: number) => readonly [easting: number, northing: number]
}

const positionHeaders = (planar: PlanarColumns | undefined): string[] =>
  planar === undefined ? ['lat', 'lon'] : ['lat', 'lon', 'easting', 'northing', 'epsg']

function positionCells(lon: number, lat: number, planar: PlanarColumns | undefined): Cell[] {
  const angles = [fixedDecimal(lat, 8), fixedDecimal(lon, 8)]
  if (planar === undefined) return angles
  const [easting, northing] = planar.of(lon, lat)
  return [...angles, fixedDecimal(easting, 3), fixedDecimal(northing, 3), String(planar.epsg)]
}

const findHeaders = ['number', 'object', 'material', 'period', 'count', 'weight_g', 'depth_m']

function findspotTable(findspots: readonly RecordedFindspot[], planar: PlanarColumns | undefined): string {
  const others = [...new Set(findspots.flatMap(({ attributes }) => Object.keys(attributes)))]
  const headers = ['name', ...findHeaders, ...positionHeaders(planar)]
  const rows = findspots.map((spot) => {
    const { name, x, y, elevation, time, note, find, accuracyM, attributes } = spot
    const texts = findTexts(spot)
    const measured = [numberCell(find?.count), numberCell(find?.weightG), numberCell(find?.depthM)]
    return [
      textCell(name),
      ...findHeaders.slice(0, 4).map((key) => textCell(texts.get(key) ?? null)),
      ...measured,
      ...positionCells(x, y, planar),
      numberCell(accuracyM),
      numberCell(elevation),
      time === null ? '' : isoText(time),
      textCell(note),
      ...others.map((key) => textCell(Object.hasOwn(attributes, key) ? attributes[key]! : null)),
    ]
  })
  return csvTable([...headers, 'accuracy_m', 'elevation_m', 'time', 'note', ...others], rows)
}

function* trackRows(
  tracks: readonly RecordedTrack[],
  names: readonly string[],
  planar?: PlanarColumns,
): Generator<Cell[]> {
  for (const [t, track] of tracks.entries()) {
    const { name, walked, xy, segmentStart, time, elevation, hdop, extras } = track
    const columns = names.map((wanted) => {
      const series = extras.find((extra) => extra.name === wanted)
      return new Map(series?.at.map((fix, i) => [fix, series.text[i]!]))
    })
    for (let s = 0; s < segmentStart.length; s++) {
      const end = segmentStart[s + 1] ?? xy.length / 2
      for (let i = segmentStart[s]!; i < end; i++) {
        yield [
          String(t + 1),
          textCell(name),
          walked ? 'yes' : 'no',
          String(s + 1),
          ...positionCells(xy[2 * i]!, xy[2 * i + 1]!, planar),
          time === null || Number.isNaN(time[i]) ? '' : isoText(time[i]!),
          numberCell(elevation?.[i]),
          numberCell(hdop?.[i]),
          ...columns.map((column) => textCell(column.get(i) ?? null)),
        ]
      }
    }
  }
}

function trackTable(tracks: readonly RecordedTrack[], planar: PlanarColumns | undefined): string {
  const names = [...new Set(tracks.flatMap(({ extras }) => extras.map(({ name }) => name)))]
  const headers = ['track', 'name', 'walked', 'segment', ...positionHeaders(planar)]
  return csvTable([...headers, 'time', 'elevation_m', 'hdop', ...names], trackRows(tracks, names, planar))
}

function* areaRows(areas: readonly RecordedArea[], planar: PlanarColumns | undefined): Generator<Cell[]> {
  for (const [a, { name, polygons }] of areas.entries()) {
    for (const [p, { rings }] of polygons.entries()) {
      for (const [r, ring] of rings.entries()) {
        for (let i = 0; i < ring.length; i += 2) {
          const place = [String(a + 1), textCell(name), String(p + 1), String(r + 1)]
          yield [...place, ...positionCells(ring[i]!, ring[i + 1]!, planar)]
        }
      }
    }
  }
}

/**
 * CSV (RFC 4180, UTF-8, comma) of areas, of tracks or of findspots: one table holds one kind. Findspots and finds are a
 * row each; tracks a row a fix; areas a row a corner, ring 1 the outer one. With `planar`, each row has easting, northing
 * and epsg as well. Attributes of tracks and areas are not written.
 *
 * Text that begins like a formula is guarded by an apostrophe, which `readCsv` takes off again; numbers never are.
 * Positions to 8 decimals of a degree (1 mm) and to the millimetre, times in UTC to the millisecond.
 *
 * Cost    one pass; the text in memory.
 * Faults  RangeError for more than one kind at once, and for anything not in EPSG:4326.
 */
export function writeCsv(features: Features, options: { readonly planar?: PlanarColumns } = {}): string {
  requireLonLat(features)
  const { areas, tracks, findspots } = features
  const kinds = [areas, tracks, findspots].filter(({ length }) => length > 0).length
  if (kinds > 1) throw new RangeError('one table holds areas, tracks or findspots, not several of them')
  const { planar } = options
  if (areas.length > 0) {
    return csvTable(['area', 'name', 'part', 'ring', ...positionHeaders(planar)], areaRows(areas, planar))
  }
  return tracks.length > 0 ? trackTable(tracks, planar) : findspotTable(findspots, planar)
}
