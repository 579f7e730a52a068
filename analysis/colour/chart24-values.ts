import type { Lab50 } from "./lab.ts";

/**
 * The 24-patch chart, editions before November 2014: CIELAB D50, 2 degree observer, row by row from the brown patch.
 * Source: the values published for that edition, as carried by colour-science/colour (BSD-3); checked against the printed
 * chromaticities in tests/published/chart24.ts.
 */
export const chart24LabD50: readonly Lab50[] = [
  [37.986, 13.555, 14.059], // dark skin
  [65.711, 18.13, 17.81], // light skin
  [49.927, -4.88, -21.905], // blue sky
  [43.139, -13.095, 21.905], // foliage
  [55.112, 8.844, -25.399], // blue flower
  [70.719, -33.397, -0.199], // bluish green
  [62.661, 36.067, 57.096], // orange
  [40.02, 10.41, -45.964], // purplish blue
  [51.124, 48.239, 16.248], // moderate red
  [30.325, 22.976, -21.587], // purple
  [72.532, -23.709, 57.255], // yellow green
  [71.941, 19.363, 67.857], // orange yellow
  [28.778, 14.179, -50.297], // blue
  [55.261, -38.342, 31.37], // green
  [42.101, 53.378, 28.19], // red
  [81.733, 4.039, 79.819], // yellow
  [51.935, 49.986, -14.574], // magenta
  [51.038, -28.631, -28.638], // cyan
  [96.539, -0.425, 1.186], // white 9.5
  [81.257, -0.638, -0.335], // neutral 8
  [66.766, -0.734, -0.504], // neutral 6.5
  [50.867, -0.153, -0.27], // neutral 5
  [35.656, -0.421, -1.231], // neutral 3.5
  [20.461, -0.079, -0.973], // black 2
];

/**
 * The same chart as made since November 2014: each patch differs by 0.4 to 2.4 from before.
 * Source: the values published for that edition, as carried by colour-science/colour (BSD-3).
 */
export const chart24Since2014LabD50: readonly Lab50[] = [
  [37.54, 14.37, 14.92], // dark skin
  [64.66, 19.27, 17.5], // light skin
  [49.32, -3.82, -22.54], // blue sky
  [43.46, -12.74, 22.72], // foliage
  [54.94, 9.61, -24.79], // blue flower
  [70.48, -32.26, -0.37], // bluish green
  [62.73, 35.83, 56.5], // orange
  [39.43, 10.75, -45.17], // purplish blue
  [50.57, 48.64, 16.67], // moderate red
  [30.1, 22.54, -20.87], // purple
  [71.77, -24.13, 58.19], // yellow green
  [71.51, 18.24, 67.37], // orange yellow
  [28.37, 15.42, -49.8], // blue
  [54.38, -39.72, 32.27], // green
  [42.43, 51.05, 28.62], // red
  [81.8, 2.67, 80.41], // yellow
  [50.63, 51.28, -14.12], // magenta
  [49.57, -29.71, -28.32], // cyan
  [95.19, -1.03, 2.93], // white 9.5
  [81.29, -0.57, 0.44], // neutral 8
  [66.89, -0.75, -0.06], // neutral 6.5
  [50.76, -0.13, 0.14], // neutral 5
  [35.63, -0.46, -0.48], // neutral 3.5
  [20.64, 0.07, -0.46], // black 2
];
