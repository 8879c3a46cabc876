/** Red, green, blue of a byte each. */
export type Colour = readonly [red: number, green: number, blue: number]

/** A summer as it shows from above. */
export interface Season {
  /** The day the picture was taken. */
  readonly takenOn: string
  /** Colours of the crop where it stands worst and best. */
  readonly poorCrop: Colour
  readonly richCrop: Colour
  /** How well the crop stands on even ground, 0 to 1, and how much that wanders. */
  readonly vigour: number
  readonly wander: number
  /** What buried ditches add to it, and what shallow soil takes away. */
  readonly ditchGain: number
  readonly soilGain: number
  readonly bareSoil: Colour
  readonly grass: Colour
  readonly neighbour: Colour
  readonly hedge: Colour
  readonly water: Colour
  /** How far the pond has shrunk from its bank, metres. */
  readonly pondFall: number
}

/** A dry July: barley all but ripe, still green where roots find water. */
export const dryYear: Season = {
  takenOn: '2022-07-14',
  poorCrop: [207, 189, 131],
  richCrop: [118, 137, 74],
  vigour: 0.2,
  wander: 0.1,
  ditchGain: 0.5,
  soilGain: 0.14,
  bareSoil: [171, 146, 106],
  grass: [164, 158, 104],
  neighbour: [198, 184, 140],
  hedge: [66, 84, 48],
  water: [74, 84, 76],
  pondFall: 1.6,
}

/** A wet June: wheat in full growth everywhere. */
export const wetYear: Season = {
  takenOn: '2024-06-20',
  poorCrop: [124, 146, 84],
  richCrop: [70, 106, 54],
  vigour: 0.6,
  wander: 0.1,
  ditchGain: 0.072,
  soilGain: 0.08,
  bareSoil: [128, 112, 84],
  grass: [104, 132, 72],
  neighbour: [150, 152, 84],
  hedge: [52, 78, 42],
  water: [52, 66, 64],
  pondFall: 0,
}
