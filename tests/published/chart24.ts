/**
 * The 24-patch chart, editions before November 2014: CIELAB D50 2 degree and the printed chromaticities and Y of 2005,
 * row by row from the brown patch. From colour-science/colour (BSD-3). The two columns must say the same colour.
 */
export const chart24: readonly {
  readonly patch: string;
  readonly labD50: readonly [number, number, number];
  readonly xyY: readonly [number, number, number];
}[] = [
  { patch: "dark skin", labD50: [37.986, 13.555, 14.059], xyY: [0.4316, 0.3777, 0.1008] },
  { patch: "light skin", labD50: [65.711, 18.13, 17.81], xyY: [0.4197, 0.3744, 0.3495] },
  { patch: "blue sky", labD50: [49.927, -4.88, -21.905], xyY: [0.276, 0.3016, 0.1836] },
  { patch: "foliage", labD50: [43.139, -13.095, 21.905], xyY: [0.3703, 0.4499, 0.1325] },
  { patch: "blue flower", labD50: [55.112, 8.844, -25.399], xyY: [0.2999, 0.2856, 0.2304] },
  { patch: "bluish green", labD50: [70.719, -33.397, -0.199], xyY: [0.2848, 0.3911, 0.4178] },
  { patch: "orange", labD50: [62.661, 36.067, 57.096], xyY: [0.5295, 0.4055, 0.3118] },
  { patch: "purplish blue", labD50: [40.02, 10.41, -45.964], xyY: [0.2305, 0.2106, 0.1126] },
  { patch: "moderate red", labD50: [51.124, 48.239, 16.248], xyY: [0.5012, 0.3273, 0.1938] },
  { patch: "purple", labD50: [30.325, 22.976, -21.587], xyY: [0.3319, 0.2482, 0.0637] },
  { patch: "yellow green", labD50: [72.532, -23.709, 57.255], xyY: [0.3984, 0.5008, 0.4446] },
  { patch: "orange yellow", labD50: [71.941, 19.363, 67.857], xyY: [0.4957, 0.4427, 0.4357] },
  { patch: "blue", labD50: [28.778, 14.179, -50.297], xyY: [0.2018, 0.1692, 0.0575] },
  { patch: "green", labD50: [55.261, -38.342, 31.37], xyY: [0.3253, 0.5032, 0.2318] },
  { patch: "red", labD50: [42.101, 53.378, 28.19], xyY: [0.5686, 0.3303, 0.1257] },
  { patch: "yellow", labD50: [81.733, 4.039, 79.819], xyY: [0.4697, 0.4734, 0.5981] },
  { patch: "magenta", labD50: [51.935, 49.986, -14.574], xyY: [0.4159, 0.2688, 0.2009] },
  { patch: "cyan", labD50: [51.038, -28.631, -28.638], xyY: [0.2131, 0.3023, 0.193] },
  { patch: "white 9.5", labD50: [96.539, -0.425, 1.186], xyY: [0.3469, 0.3608, 0.9131] },
  { patch: "neutral 8", labD50: [81.257, -0.638, -0.335], xyY: [0.344, 0.3584, 0.5894] },
  { patch: "neutral 6.5", labD50: [66.766, -0.734, -0.504], xyY: [0.3432, 0.3581, 0.3632] },
  { patch: "neutral 5", labD50: [50.867, -0.153, -0.27], xyY: [0.3446, 0.3579, 0.1915] },
  { patch: "neutral 3.5", labD50: [35.656, -0.421, -1.231], xyY: [0.3401, 0.3548, 0.0883] },
  { patch: "black 2", labD50: [20.461, -0.079, -0.973], xyY: [0.3406, 0.3537, 0.0311] },
];

/** The same chart as made since November 2014, CIELAB D50 2 degree, row by row. From colour-science/colour (BSD-3). */
export const chart24Since2014: readonly (readonly [number, number, number])[] = [
  [37.54, 14.37, 14.92],
  [64.66, 19.27, 17.5],
  [49.32, -3.82, -22.54],
  [43.46, -12.74, 22.72],
  [54.94, 9.61, -24.79],
  [70.48, -32.26, -0.37],
  [62.73, 35.83, 56.5],
  [39.43, 10.75, -45.17],
  [50.57, 48.64, 16.67],
  [30.1, 22.54, -20.87],
  [71.77, -24.13, 58.19],
  [71.51, 18.24, 67.37],
  [28.37, 15.42, -49.8],
  [54.38, -39.72, 32.27],
  [42.43, 51.05, 28.62],
  [81.8, 2.67, 80.41],
  [50.63, 51.28, -14.12],
  [49.57, -29.71, -28.32],
  [95.19, -1.03, 2.93],
  [81.29, -0.57, 0.44],
  [66.89, -0.75, -0.06],
  [50.76, -0.13, 0.14],
  [35.63, -0.46, -0.48],
  [20.64, 0.07, -0.46],
];
