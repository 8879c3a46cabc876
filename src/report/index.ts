export type { CodeKind } from './code-modules.ts'
export { findLabels, type LabelContent, type LabelsInput } from './labels.ts'
export { landownerReport } from './landowner-report.ts'
export type { LandownerReportInput } from './report-input.ts'
