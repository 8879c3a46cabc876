import * as z from 'zod'

/** Ways to look at a terrain model. */
export const terrainViews = [
  'hillshade',
  'multi-hillshade',
  'slope',
  'aspect',
  'local-relief',
  'sky-view',
  'openness-up',
  'openness-down',
  'blend',
] as const
/** Ways to look at an image. */
export const imageViews = [
  'as-is',
  'equalised',
  'decorrelated',
  'green-red',
  'visible-atmospheric',
  'ndvi',
  'band',
  'component',
  'local-contrast',
] as const

/** How a layer is looked at. Numbers that a view does not use are left out. */
export const layerViewShape = z.object({
  view: z.enum([...terrainViews, ...imageViews]),
  /** Light from, degrees from grid north; light above the horizon, degrees; times the heights are exaggerated. */
  azimuth: z.number().optional(),
  altitude: z.number().optional(),
  exaggeration: z.number().optional(),
  /** Metres on the ground. */
  radiusM: z.number().optional(),
  directions: z.number().int().optional(),
  /** Counted from 1: the band, or the principal component. */
  number: z.number().int().optional(),
  /** Percent cut off at either end of the values when they are stretched to grey. */
  cutPercent: z.number().optional(),
})
export type LayerView = z.infer<typeof layerViewShape>

/** One point known in the picture (pixels, from the upper left corner) and on the ground (survey's grid). */
export const tiePointShape = z.object({
  column: z.number(),
  row: z.number(),
  easting: z.number(),
  northing: z.number(),
})

/** One image or terrain model of the survey. Planar values in the survey's grid, metres. */
export const layerShape = z.object({
  id: z.number().int(),
  name: z.string(),
  kind: z.enum(['image', 'terrain']),
  /** Day it was taken, where known: 2026-07-02. */
  takenOn: z.string().nullable(),
  fileName: z.string(),
  /** False while its file cannot be found where it was. */
  found: z.boolean(),
  /** True when the bytes are inside the survey file. */
  inside: z.boolean(),
  columns: z.number().int(),
  rows: z.number().int(),
  bands: z.number().int(),
  /** Size of a pixel on the ground, metres. */
  pixelM: z.number(),
  /** EPSG code of the file's own system, null where it was placed by tie points. */
  epsg: z.number().int().nullable(),
  /** What its placing may be wrong by, metres: of a datum shift or of tie points; null if not known. */
  expectedErrorM: z.number().nullable(),
  /** west, south, east, north; null until it is placed */
  bounds: z.tuple([z.number(), z.number(), z.number(), z.number()]).nullable(),
  /** What it can be looked at by, the first being the usual one. */
  views: z.array(layerViewShape.shape.view),
  /** What tile level 0 shows: metres a pixel; each level up doubles it. */
  tileM: z.number(),
  levels: z.number().int(),
  /** Ready to be shown; false while its pyramid is being built. */
  ready: z.boolean(),
  /** Another text whenever its tiles look different: it goes into their addresses as `v`, and they may then be kept for ever. */
  stamp: z.string().optional(),
  /** Whose it is; a picture may have to be shown with this. */
  attribution: z.string().nullable().optional(),
  /** Counted from 1. */
  nearInfraredBand: z.number().int().nullable().optional(),
  /** What it was placed by; null while it is not placed, or its system is not known. */
  placedBy: z.enum(['file', 'world-file', 'tie-points']).nullable().optional(),
  /** What it still needs to lie on the map: a place, the system that its place is in, or, where both are known, another of them; null once it lies there. */
  lack: z.enum(['place', 'system', 'outside']).nullable().optional(),
  /** The tie points that placed it, if they did. */
  tiePoints: z.array(tiePointShape).optional(),
})
export type Layer = z.infer<typeof layerShape>

export const placingShape = z.object({
  method: z.enum(['affine', 'projective']),
  points: z.array(tiePointShape).min(3),
})
export type Placing = z.infer<typeof placingShape>
/** Residuals in metres, in the order of the points; the root mean square is over the degrees of freedom left, null if none. */
export const placingReplyShape = z.object({ residualsM: z.array(z.number()), rmsM: z.number().nullable() })
export type PlacingReply = z.infer<typeof placingReplyShape>

/** PATCH /api/layers/:id: any of these. `epsg` completes a file that does not say which system it is in. */
export const layerEditShape = z.strictObject({
  name: z.string().min(1).max(200).exactOptional(),
  takenOn: z.iso.date().nullable().exactOptional(),
  kind: z.enum(['image', 'terrain']).exactOptional(),
  nearInfraredBand: z.number().int().min(1).max(100).nullable().exactOptional(),
  attribution: z.string().max(500).nullable().exactOptional(),
  epsg: z.number().int().exactOptional(),
})
export type LayerEdit = z.infer<typeof layerEditShape>
