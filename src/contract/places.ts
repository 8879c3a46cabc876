import * as z from 'zod'

/** GET /api/places?text=…: a place as someone wrote it, found in the survey's grid and told in other notations. */
export const placeViewShape = z.object({
  /** The part of the text that was read. */
  text: z.string(),
  lat: z.number(),
  lon: z.number(),
  /** In the survey's grid, metres: the middle of the square where the text names one; null where the grid does not reach it or there is none yet. */
  easting: z.number().nullable(),
  northing: z.number().nullable(),
  /** Where the text names a square that the survey's grid reaches: its corners there, closed, metres; else null. */
  square: z.array(z.tuple([z.number(), z.number()])).nullable(),
  /** These four, like all figures here, are of the middle of the square; a reference as typed names the square itself. */
  gridRef: z.string().nullable(),
  utm: z.string(),
  mgrs: z.string(),
  dms: z.string(),
  /** What one step of the last figure is worth, metres: the side of the square for references. */
  precisionM: z.number(),
  /** Radius that the text leaves open, metres. */
  accuracyM: z.number(),
  /** EPSG code of the grid that a new survey there would be worked in. */
  usualEpsg: z.number().int(),
  warnings: z.array(z.string()),
})
export type PlaceView = z.infer<typeof placeViewShape>

/** GET /api/line?from=E,N&to=E,N: what lies between two places of the survey's grid. Bearings in degrees, 0 up to 360. */
export const lineViewShape = z.object({
  /** Along the ellipsoid, metres: what a tape on level ground would say. */
  groundM: z.number(),
  /** Between the two places on the plane of the grid, metres. */
  gridM: z.number(),
  gridBearing: z.number().nullable(),
  trueBearing: z.number().nullable(),
  /** Grid north from true north at the first place, positive east. */
  convergence: z.number(),
  /** What a compass shows at the first place today, by the World Magnetic Model; null outside its years or without a bearing. */
  magnetic: z.object({ bearing: z.number(), declination: z.number(), model: z.string() }).nullable(),
})
export type LineView = z.infer<typeof lineViewShape>
