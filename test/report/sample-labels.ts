import type { LabelStock } from '#core/labels'
import type { LabelContent, LabelsInput } from '#report'

/** The survey whose labels these are. */
export const survey = { uuid: '6f1c0a1e-8d3b-4a52-9c77-0e4f5b6a7d81', code: 'NST', demo: false }
/** One label of the sample, with its running number. */
export const label = (running: number, change: Partial<LabelContent> = {}): LabelContent => ({
  number: `NST-2026-${String(running).padStart(3, '0')}`,
  gridRef: 'TF 58512 47391',
  date: '12 September 2026',
  text: 'Buckle, copper alloy, bent by the plough',
  blank: false,
  ...change,
})
/** What a sheet of labels is made from. */
export const input = (
  stock: LabelStock,
  labels: readonly LabelContent[],
  change: Partial<LabelsInput> = {},
): LabelsInput => ({
  survey,
  labels,
  stock,
  code: 'data-matrix',
  skip: 0,
  shiftMm: { x: 0, y: 0 },
  madeAt: new Date('2026-10-01T09:30:00Z'),
  ...change,
})
