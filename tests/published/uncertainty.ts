/**
 * GUM (JCGM 100:2008) example H.2: resistance and reactance from correlated means of five readings, with the printed
 * results and the same in full precision. R = V cos(phi) / I, X = V sin(phi) / I, Z = V / I.
 */
export const gumH2 = {
  volts: [5.007, 4.994, 5.005, 4.99, 4.999],
  milliamps: [19.663, 19.639, 19.64, 19.685, 19.678],
  phase: [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  full: {
    value: [127.73217, 219.84651, 254.2597],
    uncertainty: [0.071071, 0.295582, 0.236336],
    rRX: -0.58843,
    rRZ: -0.48526,
    rXZ: 0.99251,
  },
};

/**
 * JCGM 106:2012, examples of 7.3.3, 7.4 and 8.3.3 (inputs from memory, the normal probabilities worked out):
 * measured value, its standard uncertainty, tolerance limits, probability of conformity.
 */
export const jcgm106 = [
  { value: -5.47, uncertainty: 0.05, upper: -5.4, probability: 0.919243 },
  { value: 509.7, uncertainty: 8.6, lower: 490, probability: 0.98901 },
  { value: 13.6, uncertainty: 1.8, lower: 12.5, upper: 16.3, probability: 0.66263 },
] as const;
