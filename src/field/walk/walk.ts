/** One recording, from Start to Stop. Times are milliseconds since 1970-01-01 UTC, as browsers give them. */
export interface Walk {
  readonly id: string
  readonly startedAt: number
  /** Null while it is being recorded. */
  readonly endedAt: number | null
}

/** One position as the device gave it, on WGS84. */
export interface Fix {
  readonly time: number
  readonly lat: number
  readonly lon: number
  /** Radius, metres, that the device says holds the position with 95 % chance (W3C Geolocation). */
  readonly accuracyM: number
  /** Metres above the ellipsoid; null where the device gives none. */
  readonly altitude: number | null
}

/** A fix of a walk: its number from 0, and the segment it stands in. Ground between segments was not recorded. */
export interface WalkFix extends Fix {
  readonly walk: string
  readonly n: number
  readonly segment: number
}

/** A findspot marked by hand: the fix that held when the button was pressed, and the time of pressing. */
export interface Mark {
  readonly walk: string
  /** Numbered from 1 within the walk. */
  readonly n: number
  readonly time: number
  readonly fix: Fix
  readonly text: string
}

export interface WalkFigures {
  readonly fixes: number
  readonly distanceM: number
}

export const noFigures: WalkFigures = { fixes: 0, distanceM: 0 }
