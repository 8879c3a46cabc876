/**
 * Made by bench/marks-train.ts, never by hand: a logistic model of ring candidates, in the order of featureNames. Trained on 48995 candidates,
 * 1422 of them on rings, of synthetic scenes (seeds plain 101 to 112; ploughed 101 to 103; littered 101 to 103; rough 101 to 103); ridge penalty 10.
 */
export const ringModel = {
  mean: [
    4.737, 4.2928, 2.35631, 0.315788, 2.56914, 2.14162, 2.00142, -0.405195, 2.45431, 0.941807, 3.25652,
    0.788607, 0.109036, 0.760185, 0.848223,
  ],
  spread: [
    1.40929, 0.945227, 0.490532, 0.551139, 0.626104, 0.636777, 0.553371, 0.882058, 0.320154, 0.0927649,
    1.88038, 0.438805, 0.567464, 0.511669, 0.426657,
  ],
  weights: [
    1.21579, 0.572772, -0.325937, 0.210181, 0.302824, -0.391284, 1.37435, 0.123682, 1.58442, 0.830571,
    -0.230479, -1.23221, 0.2054, -1.29979, 1.39191,
  ],
  constant: -6.91871,
}
