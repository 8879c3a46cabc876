import { newAreaCells } from './area-rows.ts'
import { FindNumbers } from './find-numbers.ts'
import { newFindspotCells } from './findspot-rows.ts'
import { setGridOnce } from './identity.ts'
import { addOriginal } from './keep-original.ts'
import { settleFindspots, settleTracks, visitOfDay, visitsByTime } from './settle-visits.ts'
import { registerGrid } from './spatial-reference.ts'
import type { AddFileReply, AreaKind, OriginalFile, PlacedContent, PlacedFindspot } from './survey-file.ts'
import { newTrackCells } from './track-rows.ts'
import type { Writer } from './writer.ts'

interface Context {
  readonly code: string
  readonly uuid: () => string
  /** For finds without a year of their own. */
  readonly year: number
}

/** Stores one original with all that came out of it. Cost: linear; the fixes of a track are one value. */
export function writeFile(
  writer: Writer,
  original: OriginalFile,
  content: PlacedContent,
  context: Context,
): AddFileReply {
  if (content.gridEpsg !== undefined) setGridOnce(writer, content.gridEpsg)
  const originalId = addOriginal(writer, original, context.uuid)
  for (const { recorded, given } of content.areas) {
    assertWgs84(recorded.epsg)
    const { kind, attributes } = kindOf(recorded.attributes)
    const beside = { uuid: context.uuid(), attributes, originalId }
    writer.insert('areas', newAreaCells({ ...recorded, given, kind }, beside))
  }
  for (const track of content.tracks) {
    assertWgs84(track.recorded.epsg)
    const cells = newTrackCells(track, context.uuid(), originalId)
    const day = typeof cells.started_at === 'string' ? cells.started_at.slice(0, 10) : null
    const visit = track.recorded.walked ? visitOfDay(writer, day, context.uuid) : null
    writer.insert('tracks', { ...cells, visit_uuid: visit })
  }
  settleTracks(writer, context.uuid)
  const visitAt = visitsByTime(writer.on)
  const found = writeFindspots(writer, content.findspots, originalId, { ...context, visitAt })
  settleFindspots(writer, visitAt)
  for (const epsg of gridsOf(content)) registerGrid(writer.on, epsg)
  return {
    originalId,
    alreadyThere: false,
    added: {
      tracks: content.tracks.length,
      fixes: content.tracks.reduce((sum, track) => sum + track.recorded.xy.length / 2, 0),
      findspots: content.findspots.length,
      areas: content.areas.length,
      finds: found.finds,
    },
    renumbered: found.renumbered,
  }
}

/** What a file says of an area, as exports write it: ground to be left alone, or a hazard, does not come in as ground to be searched. */
function kindOf({ kind, ...attributes }: Readonly<Record<string, string>>): {
  readonly kind: AreaKind
  readonly attributes: Readonly<Record<string, string>>
} {
  if (kind === 'no-go' || kind === 'hazard') return { kind, attributes }
  return { kind: 'search', attributes: kind === undefined ? attributes : { kind, ...attributes } }
}

function assertWgs84(epsg: number): void {
  if (epsg !== 4326) throw new RangeError(`positions must come in WGS84 (EPSG:4326), got EPSG:${epsg}`)
}

function gridsOf(content: PlacedContent): Set<number> {
  return new Set([
    ...[...content.tracks, ...content.areas].flatMap(({ given }) => (given === null ? [] : [given.epsg])),
    ...content.findspots.flatMap(({ planar }) => (planar === null ? [] : [planar.epsg])),
  ])
}

/** Given numbers first, so that a fresh number never takes one that stands further down in the same file. */
function writeFindspots(
  writer: Writer,
  findspots: readonly PlacedFindspot[],
  originalId: number,
  context: Context & { readonly visitAt: (time: number | null) => string | null },
): { finds: number; renumbered: { given: string; number: string }[] } {
  const numbers = new FindNumbers(writer.on, context.code)
  const kept = findspots.map(({ recorded }) => {
    const given = recorded.find?.number?.trim() ?? ''
    return numbers.keep(given) ? given : null
  })
  const renumbered: { given: string; number: string }[] = []
  let finds = 0
  for (const [i, findspot] of findspots.entries()) {
    const { recorded } = findspot
    assertWgs84(recorded.epsg)
    const findspotId = writer.insert('findspots', {
      ...newFindspotCells(findspot, context.uuid(), originalId),
      visit_uuid: context.visitAt(recorded.time),
    })
    if (recorded.find === null) continue
    const number = kept[i] ?? numbers.next(yearOf(recorded.time) ?? context.year)
    const given =
      recorded.find.number !== null && recorded.find.number !== number ? recorded.find.number : null
    if (given !== null && kept[i] === null) renumbered.push({ given, number })
    writer.insert('finds', {
      uuid: context.uuid(),
      number,
      given_number: given,
      findspot_id: findspotId,
      object: recorded.find.object,
      material: recorded.find.material,
      period: recorded.find.period,
      count: recorded.find.count,
      weight_g: recorded.find.weightG,
      depth_m: recorded.find.depthM,
    })
    finds += 1
  }
  if (finds > 0) numbers.finish()
  return { finds, renumbered }
}

/** The UTC year of a find; null for none and for one that no receiver of satellites can have recorded. */
function yearOf(seconds: number | null): number | null {
  const year = seconds === null ? Number.NaN : new Date(seconds * 1000).getUTCFullYear()
  return year >= 1980 && year <= 9999 ? year : null
}
