export { landownerReport } from './landowner-report.ts'
export type { LandownerReportInput } from './report-input.ts'
