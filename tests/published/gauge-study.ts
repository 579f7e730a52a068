/**
 * Ten parts, three appraisers, three trials: the worked example of gauge repeatability and reproducibility in the motor trade's
 * measurement systems manual, as it stands in several public test suites. By part, appraiser, trial.
 */
export const tenPartsThreeAppraisers: readonly (readonly (readonly number[])[])[] = [
  [
    [0.29, 0.41, 0.64],
    [0.08, 0.25, 0.07],
    [0.04, -0.11, -0.15],
  ],
  [
    [-0.56, -0.68, -0.58],
    [-0.47, -1.22, -0.68],
    [-1.38, -1.13, -0.96],
  ],
  [
    [1.34, 1.17, 1.27],
    [1.19, 0.94, 1.34],
    [0.88, 1.09, 0.67],
  ],
  [
    [0.47, 0.5, 0.64],
    [0.01, 1.03, 0.2],
    [0.14, 0.2, 0.11],
  ],
  [
    [-0.8, -0.92, -0.84],
    [-0.56, -1.2, -1.28],
    [-1.46, -1.07, -1.45],
  ],
  [
    [0.02, -0.11, -0.21],
    [-0.2, 0.22, 0.06],
    [-0.29, -0.67, -0.49],
  ],
  [
    [0.59, 0.75, 0.66],
    [0.47, 0.55, 0.83],
    [0.02, 0.01, 0.21],
  ],
  [
    [-0.31, -0.2, -0.17],
    [-0.63, 0.08, -0.34],
    [-0.46, -0.56, -0.49],
  ],
  [
    [2.26, 1.99, 2.01],
    [1.8, 2.12, 2.19],
    [1.77, 1.45, 1.87],
  ],
  [
    [-1.36, -1.25, -1.31],
    [-1.68, -1.62, -1.5],
    [-1.49, -1.77, -2.16],
  ],
];

/** What is printed for it: sums of squares, F of the interaction, and with the interaction pooled the standard deviations and shares. */
export const printedStudy = {
  sums: { part: 88.361934, appraiser: 3.167262, interaction: 0.358982, repeat: 2.758933, total: 94.647112 },
  f: 0.43372,
  p: 0.974,
  repeat: 0.199933,
  reproduce: 0.226838,
  gauge: 0.302373,
  part: 1.042327,
  total: 1.0853,
  sharesPercent: { repeat: 3.39, reproduce: 4.37, gauge: 7.76, part: 92.24 },
  gaugePercent: 27.86,
  /** 4.861 before the fraction is dropped. */
  classes: 4,
} as const;
