import type {
  AreaEdit,
  AreaView,
  ExportFormat,
  ExportWhat,
  FindspotView,
  GapView,
  ImportedFile,
  LineView,
  NewSurvey,
  PlaceView,
  Settings,
  SurveyList,
  SurveyView,
  TrackView,
  UndoReply,
} from '#contract'
import { request, requestJson } from './request.ts'

/** Easting and northing in the survey's grid, metres. */
export type Position = readonly [easting: number, northing: number]

/** To a tenth of a millimetre, never in powers of ten. */
const pair = (position: Position): string => position.map((metres) => metres.toFixed(4)).join(',')

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
  importFile: (file: File, signal: AbortSignal) =>
    requestJson<ImportedFile>(`/api/import?name=${encodeURIComponent(file.name)}`, {
      method: 'POST',
      body: file,
      signal,
    }),
  place: (text: string) => requestJson<PlaceView>(`/api/places?text=${encodeURIComponent(text)}`),
  line: (from: Position, to: Position) =>
    requestJson<LineView>(`/api/line?from=${pair(from)}&to=${pair(to)}`),
  startGrid: (epsg: number) => requestJson<SurveyView>('/api/grid', { method: 'POST', json: { epsg } }),
  landownerReport: () => request('/api/report/landowner.pdf'),
  exported: (what: ExportWhat, format: ExportFormat) => request(`/api/export/${what}?as=${format}`),
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
} as const
export interface Lists {
  readonly tracks: readonly TrackView[]
  readonly areas: readonly AreaView[]
  readonly findspots: readonly FindspotView[]
  readonly gaps: readonly GapView[]
}
export type ListName = keyof Lists
