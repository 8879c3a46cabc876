import path from 'node:path'
import { laneFiguresShape, planWishesShape, usualNameLength } from '#contract'
import type { RecordedArea, RecordedFindspot, RecordedTrack } from '#core/record'
import { type PackPicture, type WalkPack, writeWalkPack } from '#formats/walk-pack'
import type { StoredConstraint, SurveyFile } from '#store'
import type { MadeFile } from '../desk-service.ts'
import { targetPoints } from '../marks/mark-export.ts'
import { surroundings } from '../surroundings.ts'
import { laneTracks, planToExport } from './plan-export.ts'
import { clashesNow } from './work-out-plan.ts'

const wgs84 = 4326

/** On any walk: docs/guide/cautions.md in short. */
export const walkCautions = [
  'Stop and leave in place what lies below the ploughsoil or looks like a hoard or a burial; protect it and call the finds officer.',
  'Human remains: stop, cover them, call the police.',
  'Ammunition, bombs and what might be: do not touch, mark the spot, go back the way you came, call the emergency number.',
  'Crashed military aircraft: no search without a licence.',
  'Mind buried services, livestock, slurry, farm traffic and the weather; tell someone where you are and when you will be back.',
] as const

function constraintContent(constraints: readonly StoredConstraint[]): WalkPack['constraints'] {
  const content = {
    areas: [] as RecordedArea[],
    tracks: [] as RecordedTrack[],
    findspots: [] as RecordedFindspot[],
  }
  for (const { name, kind, bufferM, shape } of constraints) {
    const common = { epsg: wgs84, name, attributes: { kind, buffer_m: String(bufferM) } }
    if (shape.type === 'polygons') content.areas.push({ ...common, polygons: shape.polygons })
    else if (shape.type === 'line') {
      const line = { walked: false, xy: shape.xy, segmentStart: Uint32Array.of(0) }
      content.tracks.push({ ...common, ...line, time: null, elevation: null, hdop: null, extras: [] })
    } else {
      const bare = { accuracyM: null, elevation: null, time: null, note: null, find: null }
      content.findspots.push({ ...common, ...bare, x: shape.lon, y: shape.lat })
    }
  }
  return content
}

/** The pack of a plan, else of the plan kept last. Faults: SurveyError 'nothing-to-export', 'not-found'. */
export function walkPackOf(
  survey: SurveyFile,
  planId: number | undefined,
  pictures: readonly PackPicture[] = [],
): MadeFile {
  const plan = planToExport(survey, planId)
  const { uuid, code, title } = survey.identity()
  const { lanes, walks } = laneTracks(survey, plan, { length: usualNameLength, ascii: false })
  const areas = survey.areas()
  const recorded = (kinds: readonly string[], id?: number): RecordedArea[] =>
    areas
      .filter((area) => kinds.includes(area.kind) && (id === undefined || area.id === id))
      .map(({ name, kind, polygons }) => ({ epsg: wgs84, name, polygons, attributes: { kind } }))
  const constraints = constraintContent(survey.land.constraints())
  const pack: WalkPack = {
    manifest: {
      format: 'lynchet-walk-pack',
      version: 1,
      survey: { uuid, code, title },
      plan: plan.name,
      area: plan.areaName,
      madeAt: surroundings.now().toISOString(),
      spacingM: planWishesShape.safeParse(plan.settings).data?.spacingM ?? null,
      lengthM: laneFiguresShape.safeParse(plan.figures).data?.lengthM ?? 0,
      walkers: walks.length,
    },
    area: recorded(['search'], plan.areaId),
    lanes,
    targets: targetPoints(survey),
    constraints: { ...constraints, areas: [...constraints.areas, ...recorded(['no-go', 'hazard'])] },
    cautions: [...clashesNow(survey, plan), ...walkCautions],
    pictures,
  }
  const stem = path.basename(survey.path, path.extname(survey.path))
  const bytes = writeWalkPack(pack)
  return {
    fileName: `${stem}-walk-${plan.id}.zip`,
    mediaType: 'application/zip',
    bytes,
    features: lanes.length + pack.targets.length,
  }
}
