/** How a visit was walked. Null: not told, and then the survey's setting or the default of the sum stands in. */
export interface VisitFacts {
  /** 2026-09-12; null where the tracks have no times. */
  readonly day: string | null
  readonly person: string | null
  readonly swathM: number | null
  readonly coilM: number | null
  readonly rateHz: number | null
  readonly errorM: number | null
  readonly ownChance: number | null
  /** Seconds to add to the times of its tracks. */
  readonly clockOffsetS: number
  /** Leaves out what looks driven. */
  readonly cutDrives: boolean
  readonly weather: string | null
  readonly ground: string | null
}

export interface StoredVisit extends VisitFacts {
  readonly id: number
  readonly uuid: string
}

/** The visits of an open survey. Faults as for `SurveyFile`. */
export interface VisitsFile {
  /** In order of days, those without one last. An import puts its walked tracks, and any that have none, in the visits of their days. */
  visits(): StoredVisit[]
  /** An edit that changes nothing leaves no trace. */
  changeVisit(id: number, edit: Partial<VisitFacts>): StoredVisit
  /** Puts a track in another visit, or in a new one of its day for null; a visit left without tracks goes, and its findspots go along. */
  moveTrack(track: number, visit: number | null): StoredVisit

  /** Counts a track as walked ground, or leaves it out; it stays in its visit. SurveyError not-found. */
  countTrack(track: number, walked: boolean): void
}
