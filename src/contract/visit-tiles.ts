/** Edges of the steps in which a chance tile tells chances: below the first nothing is drawn. */
export const chanceSteps = [0.05, 0.2, 0.5, 0.8, 0.95] as const

/**
 * A chance tile is a PNG of 256 x 256 grey pixels with alpha: the grey is this times the step of the mean chance over the
 * pixel (1 from 5 %, 2 from 20 %, up to 5 from 95 %), the alpha the share of the pixel inside the area.
 */
export const greyPerChanceStep = 50

/** Numbers a fix of a cleaned walk as GET /api/visits/:id/walk sends it: easting, northing, seconds since 1970, m/s, error, piece. */
export const walkColumns = 6
