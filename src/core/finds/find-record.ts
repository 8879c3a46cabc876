/** A word as a person wrote it, and apart from it the term of an open vocabulary that was chosen for it, if one was. */
export interface CodedWord {
  readonly text: string
  /** The term's own key in its vocabulary (`fish:75339`, `period:9`); null for free text. Never guessed from the text. */
  readonly term: string | null
}

export const certainties = ['certain', 'probable', 'possible'] as const
/** How sure a person is of the date given. */
export type Certainty = (typeof certainties)[number]

export const completenesses = ['complete', 'nearly complete', 'incomplete', 'fragment'] as const
export type Completeness = (typeof completenesses)[number]

export const damageKinds = ['plough', 'recent', 'old'] as const
/** When a break or scar was made: by the plough, in our time otherwise, or long ago. */
export type DamageKind = (typeof damageKinds)[number]

/**
 * One find as it is catalogued: what one bag holds. Nothing is compulsory but the number; null and empty lists mean not
 * recorded, never zero. Where and when it was found stand at its findspot, who bagged or cleaned it in its history.
 */
export interface FindRecord {
  /** CODE-YEAR-NNN: see `parseFindNumber`. */
  readonly number: string
  /** UUID of the findspot, which holds position, accuracy and time. */
  readonly findspot: string | null
  /** UUID of the visit. */
  readonly visit: string | null
  readonly finder: string | null
  /** Below the surface as found, centimetres. */
  readonly depthCm: number | null
  /** How it lay: face up, on edge, in a clod. */
  readonly lay: string | null
  readonly signalNote: string | null
  readonly objectType: CodedWord | null
  /** Most of it first. */
  readonly materials: readonly CodedWord[]
  readonly period: CodedWord | null
  /** First and last year the object may be of, both meant whole; -1 is 1 BC and there is no year 0. */
  readonly fromYear: number | null
  readonly toYear: number | null
  readonly certainty: Certainty | null
  /** Pieces in the bag. */
  readonly count: number | null
  readonly completeness: Completeness | null
  readonly weightG: number | null
  readonly lengthMm: number | null
  readonly widthMm: number | null
  readonly thicknessMm: number | null
  readonly diameterMm: number | null
  /** Where the top of the reverse points with the obverse upright, as an hour of the clock, above 0 and up to 12. */
  readonly dieAxisH: number | null
  readonly condition: string | null
  readonly surface: string | null
  readonly damage: readonly DamageKind[]
  readonly decoration: string | null
  readonly description: string | null
  /** Free references to like objects, one an entry. */
  readonly parallels: readonly string[]
  /** State of conservation in the finder's words: dry and stable, active corrosion, kept wet. */
  readonly conservation: string | null
  /** Warnings a person has added; those that follow from material and state are worked out by `careFor`. */
  readonly warnings: readonly string[]
  readonly whereNow: string | null
  readonly notes: string | null
}

/** A find of which only the number is known. */
export function numberedFind(number: string): FindRecord {
  return {
    number,
    findspot: null,
    visit: null,
    finder: null,
    depthCm: null,
    lay: null,
    signalNote: null,
    objectType: null,
    materials: [],
    period: null,
    fromYear: null,
    toYear: null,
    certainty: null,
    count: null,
    completeness: null,
    weightG: null,
    lengthMm: null,
    widthMm: null,
    thicknessMm: null,
    diameterMm: null,
    dieAxisH: null,
    condition: null,
    surface: null,
    damage: [],
    decoration: null,
    description: null,
    parallels: [],
    conservation: null,
    warnings: [],
    whereNow: null,
    notes: null,
  }
}
