/**
 * Made by bench/marks-train.ts, never by hand: a logistic model of ring candidates, in the order of featureNames. Trained on 27684 candidates,
 * 1098 of them on rings, of synthetic scenes (seeds plain 101 to 112; ploughed 101 to 103; littered 101 to 103; rough 101 to 103); ridge penalty 10.
 */
export const ringModel = {
  mean: [
    5.13996, 4.28838, 2.50384, 0.372723, 2.74584, 2.25852, 2.11977, -0.487556, 2.54577, 0.927079, 3.41778,
    0.824426, 0.11471, 0.845624, 0.916845,
  ],
  spread: [
    1.60775, 1.2823, 0.544374, 0.647739, 0.681667, 0.698985, 0.608367, 0.90105, 0.392959, 0.098766, 1.98463,
    0.454636, 0.599753, 0.574358, 0.524418,
  ],
  weights: [
    1.39634, 0.376106, -0.374508, 0.385323, 0.194483, -0.251728, 1.6514, 0.0705158, 1.90291, 0.747718,
    -0.41496, -0.91618, 0.149471, -1.10433, 1.38485,
  ],
  constant: -6.16919,
}
