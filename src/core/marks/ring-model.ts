/**
 * Made by bench/marks-train.ts, never by hand: a logistic model of ring candidates, in the order of featureNames. Trained on 70034 candidates,
 * 1399 of them on rings, of synthetic scenes (seeds plain 101 to 112; ploughed 101 to 103; littered 101 to 103; rough 101 to 103); ridge penalty 10.
 */
export const ringModel = {
  mean: [
    4.40007, 4.18084, 2.21823, 0.291832, 2.37343, 2.03956, 1.87341, -0.314964, 2.52979, 0.921685, 3.11201,
    0.753988, 0.103096, 0.724264, 0.774477,
  ],
  spread: [
    1.31927, 0.816237, 0.469115, 0.480013, 0.620654, 0.591068, 0.508593, 0.854764, 0.340405, 0.111995,
    1.71301, 0.403705, 0.528941, 0.449129, 0.385994,
  ],
  weights: [
    1.40015, 0.476534, 0.925822, -0.021147, -0.873524, -1.1856, 1.29131, -0.0493178, 1.69642, 0.712643,
    0.114227, -1.43981, 0.166573, -1.08322, 1.4135,
  ],
  constant: -7.34674,
}
