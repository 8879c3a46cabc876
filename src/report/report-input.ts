import type { AreaView, FindspotView, GapView, SurveyView, TrackView } from '#contract'

/** What the landowner's report is made from. Planar values are in the survey's grid, metres. */
export interface LandownerReportInput {
  readonly survey: SurveyView
  readonly areas: readonly AreaView[]
  readonly gaps: readonly GapView[]
  readonly tracks: readonly TrackView[]
  /** Walked lines as interleaved easting, northing with a NaN pair between segments. */
  readonly trackLines: readonly Float64Array[]
  /** Counted only: no position of a find, however coarse, goes into the report. */
  readonly findspots: readonly FindspotView[]
  /** The time put on the report and into the file; the same input and time give the same bytes. */
  readonly madeAt: Date
}
