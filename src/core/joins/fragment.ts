import type { CodedWord, FindRecord } from '#core/finds'

/** What is known of one fragment that bears on joins. Positions planar, in metres of one grid; null means not recorded. */
export interface Fragment {
  readonly number: string
  readonly x: number
  readonly y: number
  readonly accuracyM: number | null
  readonly material: CodedWord | null
  readonly objectType: CodedWord | null
  readonly thicknessMm: number | null
  /** Diameter of the circle that a curved piece was part of. */
  readonly curveMm: number | null
  /** When its breaks were made: the damage of the record. */
  readonly breaks: readonly string[]
  readonly fromYear: number | null
  readonly toYear: number | null
}

/** Where a find lies, on the grid. */
export interface FindPlace {
  readonly easting: number
  readonly northing: number
  readonly accuracyM: number | null
}

/** The finds that are pieces of something and have a place; a whole object joins nothing. A find of unsaid completeness is taken as a piece. */
export function fragmentsOf(
  finds: readonly FindRecord[],
  placeOf: (find: FindRecord) => FindPlace | null,
): readonly Fragment[] {
  return finds.flatMap((find) => {
    const place = placeOf(find)
    if (place === null || find.completeness === 'complete') return []
    return [
      {
        number: find.number,
        x: place.easting,
        y: place.northing,
        accuracyM: place.accuracyM,
        material: find.materials[0] ?? null,
        objectType: find.objectType,
        thicknessMm: find.thicknessMm,
        curveMm: find.diameterMm,
        breaks: find.damage,
        fromYear: find.fromYear,
        toYear: find.toYear,
      },
    ]
  })
}
