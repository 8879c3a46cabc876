import type {
  AreaEdit,
  AreaView,
  BaseMaps,
  BearingFound,
  BearingWishes,
  ChancesSummary,
  ChancesWish,
  ConstraintEdit,
  ConstraintSet,
  ConstraintsAdded,
  ExportFormat,
  ExportWhat,
  FindspotView,
  GapsArea,
  GapView,
  ImportedFile,
  LandClash,
  LanesWalkedView,
  LanesWalkedWish,
  Layer,
  LayerEdit,
  LineView,
  Mark,
  MarkEdit,
  MarkSearch,
  MissedLanes,
  NewGroundNote,
  NewMark,
  NewPermission,
  NewPlan,
  NewSurvey,
  NewTarget,
  PackWishesGiven,
  Permission,
  PermissionEdit,
  PhotographMatches,
  PhotographMatchWish,
  PhotographMoment,
  PlaceView,
  Placing,
  PlacingReply,
  Plan,
  PlannedLane,
  PlanPreview,
  PlanWishesGiven,
  Settings,
  SoughtKind,
  SurveyList,
  SurveyView,
  Target,
  TargetEdit,
  TrackView,
  UndoReply,
  Visit,
  VisitAccount,
  VisitEdit,
} from '#contract'
import type { NameLimits } from '#core/lanes'
import { request, requestJson } from './request.ts'

/** Easting and northing in the survey's grid, metres. */
export type Position = readonly [easting: number, northing: number]

/** To a tenth of a millimetre, never in powers of ten. */
const pair = (position: Position): string => position.map((metres) => metres.toFixed(4)).join(',')

/** Longest address that is safe with the header limits of servers and browsers, bytes. */
const longestQuery = 8000

/** The names given at once are left out where they would not fit into one address. */
function importQuery(name: string, together: readonly string[]): string {
  const query = new URLSearchParams({ name })
  if (together.length > 1) for (const other of together) query.append('together', other)
  const text = query.toString()
  return text.length > longestQuery ? new URLSearchParams({ name }).toString() : text
}

/** Every request that the desk makes, by name. */
export const deskApi = {
  survey: () => requestJson<SurveyView>('/api/survey'),
  surveys: () => requestJson<SurveyList>('/api/surveys'),
  newSurvey: (survey: NewSurvey) => requestJson<SurveyView>('/api/surveys', { method: 'POST', json: survey }),
  openSurvey: (file: string) =>
    requestJson<SurveyView>('/api/surveys/open', { method: 'POST', json: { file } }),
  addArea: (edit: AreaEdit) => requestJson<AreaView>('/api/areas', { method: 'POST', json: edit }),
  changeArea: (id: number, edit: AreaEdit) =>
    requestJson<AreaView>(`/api/areas/${id}`, { method: 'PUT', json: edit }),
  removeArea: (id: number) => request(`/api/areas/${id}`, { method: 'DELETE' }),
  changeSettings: (patch: Partial<Settings>) =>
    requestJson<Settings>('/api/settings', { method: 'PATCH', json: patch }),
  undo: () => requestJson<UndoReply>('/api/undo', { method: 'POST' }),
  startCover: () => requestJson<{ job: string }>('/api/cover', { method: 'POST' }),
  cancelJob: (id: string) => request(`/api/jobs/${encodeURIComponent(id)}`, { method: 'DELETE' }),
  /** `together`: the names of all files that were given at once. */
  importFile: (file: File, together: readonly string[], signal: AbortSignal) =>
    requestJson<ImportedFile>(`/api/import?${importQuery(file.name, together)}`, {
      method: 'POST',
      body: file,
      signal,
    }),
  changeLayer: (id: number, edit: LayerEdit) =>
    requestJson<Layer>(`/api/layers/${id}`, { method: 'PATCH', json: edit }),
  removeLayer: (id: number) => request(`/api/layers/${id}`, { method: 'DELETE' }),
  placeLayer: (id: number, placing: Placing) =>
    requestJson<PlacingReply>(`/api/layers/${id}/placing`, { method: 'POST', json: placing }),
  keepLayerInside: (id: number) => requestJson<Layer>(`/api/layers/${id}/inside`, { method: 'POST' }),
  /** Waits until a tile has been painted, for what it needs may have to be made ready first. */
  tilePainted: async (address: string, signal: AbortSignal) => {
    await (await request(address, { signal })).arrayBuffer()
  },
  place: (text: string) => requestJson<PlaceView>(`/api/places?text=${encodeURIComponent(text)}`),
  line: (from: Position, to: Position) =>
    requestJson<LineView>(`/api/line?from=${pair(from)}&to=${pair(to)}`),
  startGrid: (epsg: number) => requestJson<SurveyView>('/api/grid', { method: 'POST', json: { epsg } }),
  searchMarks: (search: MarkSearch) =>
    requestJson<{ job: string }>('/api/marks/search', { method: 'POST', json: search }),
  addMark: (mark: NewMark) => requestJson<Mark>('/api/marks', { method: 'POST', json: mark }),
  changeMark: (id: number, edit: MarkEdit) =>
    requestJson<Mark>(`/api/marks/${id}`, { method: 'PATCH', json: edit }),
  removeMark: (id: number) => request(`/api/marks/${id}`, { method: 'DELETE' }),
  removeUndecided: (kind: SoughtKind | null) =>
    requestJson<{ removed: number }>(`/api/marks/undecided${kind === null ? '' : `?kind=${kind}`}`, {
      method: 'DELETE',
    }),
  makeTarget: (id: number) => requestJson<Target>(`/api/marks/${id}/target`, { method: 'POST' }),
  addTarget: (target: NewTarget) => requestJson<Target>('/api/targets', { method: 'POST', json: target }),
  changeTarget: (id: number, edit: TargetEdit) =>
    requestJson<Target>(`/api/targets/${id}`, { method: 'PATCH', json: edit }),
  removeTarget: (id: number) => request(`/api/targets/${id}`, { method: 'DELETE' }),
  addPermission: (permission: NewPermission) =>
    requestJson<Permission>('/api/permissions', { method: 'POST', json: permission }),
  changePermission: (id: number, edit: PermissionEdit) =>
    requestJson<Permission>(`/api/permissions/${id}`, { method: 'PATCH', json: edit }),
  removePermission: (id: number) => request(`/api/permissions/${id}`, { method: 'DELETE' }),
  addNote: (id: number, note: NewGroundNote) =>
    requestJson<Permission>(`/api/permissions/${id}/notes`, { method: 'POST', json: note }),
  removeNote: (id: number) => request(`/api/notes/${id}`, { method: 'DELETE' }),
  attachAgreement: (id: number, file: File, inside: boolean) =>
    requestJson<Permission>(
      `/api/permissions/${id}/agreement?${new URLSearchParams({ name: file.name, inside: String(inside) })}`,
      { method: 'PUT', body: file },
    ),
  agreement: (id: number) => request(`/api/permissions/${id}/agreement`),
  addConstraints: (file: File, kind: string, bufferM: number) =>
    requestJson<ConstraintsAdded>(
      `/api/constraints?${new URLSearchParams({ name: file.name, kind, bufferM: String(bufferM) })}`,
      { method: 'POST', body: file },
    ),
  changeConstraints: (id: number, edit: ConstraintEdit) =>
    request(`/api/constraints/${id}`, { method: 'PATCH', json: edit }),
  removeConstraints: (id: number) => request(`/api/constraints/${id}`, { method: 'DELETE' }),
  previewPlan: (wishes: PlanWishesGiven, signal: AbortSignal) =>
    requestJson<PlanPreview>('/api/plans/preview', { method: 'POST', json: wishes, signal }),
  readBearing: (wishes: BearingWishes, signal: AbortSignal) =>
    requestJson<BearingFound>('/api/plans/bearing', { method: 'POST', json: wishes, signal }),
  keepPlan: (plan: NewPlan) => requestJson<Plan>('/api/plans', { method: 'POST', json: plan }),
  removePlan: (id: number) => request(`/api/plans/${id}`, { method: 'DELETE' }),
  lanesOf: (id: number) => requestJson<PlannedLane[]>(`/api/plans/${id}/lanes`),
  walkPack: (id: number, { layers = [], sidePx, mostMb }: PackWishesGiven) =>
    request(
      layers.length === 0
        ? `/api/plans/${id}/pack.zip`
        : `/api/plans/${id}/pack.zip?layers=${layers.join(',')}&sidePx=${sidePx}&mostMb=${mostMb}`,
    ),
  walkSheet: (id: number) => request(`/api/plans/${id}/sheet.pdf`),
  handheld: (id: number, names: number, ascii: boolean) =>
    request(`/api/plans/${id}/handheld.gpx?names=${names}&ascii=${ascii}`),
  baseMaps: () => requestJson<BaseMaps>('/api/base-maps'),
  keepBaseMaps: (maps: BaseMaps) => requestJson<BaseMaps>('/api/base-maps', { method: 'PUT', json: maps }),
  lanesWalked: (wish: LanesWalkedWish) =>
    requestJson<LanesWalkedView>('/api/visits/lanes', { method: 'POST', json: wish }),
  missedArea: (missed: MissedLanes) =>
    requestJson<AreaView>('/api/visits/lanes/area', { method: 'POST', json: missed }),
  missedPlan: (missed: MissedLanes) =>
    requestJson<{ id: number; name: string }>('/api/visits/lanes/plan', { method: 'POST', json: missed }),
  photographMoment: (name: string, head: Blob) =>
    requestJson<PhotographMoment>(`/api/photographs/look?${new URLSearchParams({ name })}`, {
      method: 'POST',
      body: head,
    }),
  matchPhotographs: (wish: PhotographMatchWish) =>
    requestJson<PhotographMatches>('/api/photographs/match', { method: 'POST', json: wish }),
  chances: async (only: readonly number[] | null) =>
    (await request(`/api/visits/chances${only === null ? '' : `?of=${only.join(',')}`}`)).text(),
  chancesKept: () => requestJson<ChancesSummary[]>('/api/visits/chances/kept'),
  startChances: (wish: ChancesWish) =>
    requestJson<{ job: string }>('/api/visits/chances', { method: 'POST', json: wish }),
  gapsArea: (area: GapsArea) =>
    requestJson<AreaView>('/api/visits/chances/area', { method: 'POST', json: area }),
  changeVisit: (id: number, edit: VisitEdit) =>
    requestJson<Visit>(`/api/visits/${id}`, { method: 'PATCH', json: edit }),
  moveTrack: (track: number, visit: number | null) =>
    requestJson<Visit>(`/api/tracks/${track}/visit`, { method: 'PUT', json: { visit } }),
  countTrack: (track: number, walked: boolean) =>
    request(`/api/tracks/${track}/walked`, { method: 'PUT', json: { walked } }),
  visitAccount: (id: number) => requestJson<VisitAccount>(`/api/visits/${id}/account`),
  /** `walkColumns` numbers a fix. */
  visitWalk: async (id: number) =>
    new Float64Array(await (await request(`/api/visits/${id}/walk`)).arrayBuffer()),
  shiftGrid: async () => new Uint8Array(await (await request('/api/shift-grid')).arrayBuffer()),
  landownerReport: () => request('/api/report/landowner.pdf'),
  /** `names` cuts the names of lanes and targets for a handheld; null leaves them. */
  exported: (what: ExportWhat, format: ExportFormat, names: NameLimits | null = null) =>
    request(`/api/export/${what}?as=${format}${names ? `&names=${names.length}&ascii=${names.ascii}` : ''}`),
  /** Interleaved easting, northing, thinned to the tolerance in metres; a NaN pair between segments. */
  trackLine: async (id: number, tolerance: number, signal: AbortSignal) =>
    new Float64Array(
      await (await request(`/api/tracks/${id}/line?tolerance=${tolerance}`, { signal })).arrayBuffer(),
    ),
} as const

/** What the lists of a survey are asked for by. */
export const listPaths = {
  tracks: '/api/tracks',
  areas: '/api/areas',
  findspots: '/api/findspots',
  gaps: '/api/gaps',
  layers: '/api/layers',
  visits: '/api/visits',
  marks: '/api/marks',
  targets: '/api/targets',
  permissions: '/api/permissions',
  constraints: '/api/constraints',
  clashes: '/api/clashes',
  plans: '/api/plans',
} as const
export interface Lists {
  readonly tracks: readonly TrackView[]
  readonly areas: readonly AreaView[]
  readonly findspots: readonly FindspotView[]
  readonly gaps: readonly GapView[]
  readonly layers: readonly Layer[]
  readonly visits: readonly Visit[]
  readonly marks: readonly Mark[]
  readonly targets: readonly Target[]
  readonly permissions: readonly Permission[]
  readonly constraints: readonly ConstraintSet[]
  readonly clashes: readonly LandClash[]
  readonly plans: readonly Plan[]
}
export type ListName = keyof Lists
