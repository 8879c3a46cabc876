/** Steps of passes that a cover tile tells apart: 1, 2, 3, and 4 or more. */
export const passSteps = 4

/**
 * A cover tile is a PNG of 256 x 256 grey pixels with alpha: the grey is this times the step of the mean passes over the
 * pixel's covered ground, the alpha the share of the pixel that is covered. The page gives the steps their colours.
 */
export const greyPerStep = 60
