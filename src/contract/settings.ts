import * as z from 'zod'

/** Common practice: one person sweeps 1.2 to 1.8 m; the other defaults are ours, said with every result. */
export const settingsShape = z.object({
  /** Full width of the arc swept, edge to edge of the coil, metres. */
  swathM: z.number().gt(0).lte(20),
  /** Side of a cover cell in metres; null lets the size of the area choose. */
  cellM: z.number().gt(0).lte(50).nullable(),
  /** A step between fixes longer than this, metres, is not swept ground. */
  maxJumpM: z.number().gt(0).lte(1000),
  /** A step between fixes lasting longer than this, seconds, is not swept ground. */
  maxJumpS: z.number().gt(0).lte(86_400),
  /** Gaps smaller than this, square metres, are not listed. */
  minGapM2: z.number().gte(0).lte(1_000_000),
})

export type Settings = z.infer<typeof settingsShape>

export const defaultSettings: Settings = { swathM: 1.5, cellM: null, maxJumpM: 10, maxJumpS: 60, minGapM2: 4 }
