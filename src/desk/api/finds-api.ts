import type {
  BulkEdit,
  FindEditRequest,
  FindsExport,
  FindsTableReply,
  FindView,
  History,
  JoinEdit,
  JoinView,
  LabelsRequest,
  NewEvent,
  NewFind,
  NumberNoteRequest,
  Numbers,
  ObjectList,
  ObjectListReply,
  PhotographEdit,
  PhotographReply,
  PhotographView,
  ProposedJoins,
  ProposeJoins,
  TableColumn,
  Vocabularies,
} from '#contract'
import type { PhotographRole } from '#core/finds'
import { request, requestJson } from './request.ts'

/** Every request about finds, by name. */
export const findsApi = {
  list: async () => (await request('/api/finds')).text(),
  one: (id: number) => requestJson<FindView>(`/api/finds/${id}`),
  named: (text: string) => requestJson<FindView>(`/api/finds/named?text=${encodeURIComponent(text)}`),
  add: (find: NewFind) => requestJson<FindView>('/api/finds', { method: 'POST', json: find }),
  change: (id: number, edit: FindEditRequest) =>
    requestJson<FindView>(`/api/finds/${id}`, { method: 'PATCH', json: edit }),
  changeMany: (edit: BulkEdit) => request('/api/finds', { method: 'PATCH', json: edit }),
  remove: (ids: readonly number[]) => request('/api/finds/remove', { method: 'POST', json: { ids } }),
  history: (id: number) => requestJson<History>(`/api/finds/${id}/history`),
  addEvent: (event: NewEvent) => request('/api/finds/events', { method: 'POST', json: event }),
  numbers: () => requestJson<Numbers>('/api/finds/numbers'),
  noteNumber: (note: NumberNoteRequest) => request('/api/finds/numbers', { method: 'POST', json: note }),
  addPhotograph: (find: number, file: File, role: PhotographRole) =>
    requestJson<PhotographReply>(
      `/api/finds/${find}/photographs?name=${encodeURIComponent(file.name)}&role=${encodeURIComponent(role)}`,
      { method: 'POST', body: file },
    ),
  changePhotograph: (id: number, edit: PhotographEdit) =>
    requestJson<PhotographView>(`/api/photographs/${id}`, { method: 'PATCH', json: edit }),
  removePhotograph: (id: number) => request(`/api/photographs/${id}`, { method: 'DELETE' }),
  joins: () => requestJson<JoinView[]>('/api/joins'),
  proposeJoins: (how: ProposeJoins) =>
    requestJson<ProposedJoins>('/api/joins/propose', { method: 'POST', json: how }),
  /** What a table of finds would do, or has done with `write`. */
  table: (file: File, how: { readonly columns?: readonly TableColumn[]; readonly write?: boolean }) =>
    requestJson<FindsTableReply>(
      `/api/finds/table?name=${encodeURIComponent(file.name)}&write=${how.write ? 'yes' : 'no'}${
        how.columns ? `&columns=${encodeURIComponent(JSON.stringify(how.columns))}` : ''
      }`,
      { method: 'POST', body: file },
    ),
  export: (how: FindsExport) => request('/api/finds/export', { method: 'POST', json: how }),
  labels: (labels: LabelsRequest) => request('/api/finds/labels', { method: 'POST', json: labels }),
  joinTogether: (ids: readonly number[]) => request('/api/joins/together', { method: 'POST', json: { ids } }),
  part: (ids: readonly number[]) => request('/api/joins/part', { method: 'POST', json: { ids } }),
  changeJoin: (edit: JoinEdit) => request('/api/joins', { method: 'PUT', json: edit }),
  objectList: () => requestJson<ObjectList | null>('/api/finds/words'),
  takeObjectList: (file: File) =>
    requestJson<ObjectListReply>(`/api/finds/words?name=${encodeURIComponent(file.name)}`, {
      method: 'POST',
      body: file,
    }),
  dropObjectList: () => request('/api/finds/words', { method: 'DELETE' }),
  vocabularies: () => requestJson<Vocabularies>('/api/vocabularies'),
} as const

/** Address of a photograph as the page shows it. */
export const pictureAddress = (id: number, size: 'small' | 'screen'): string =>
  `/api/photographs/${id}/picture?size=${size}`
