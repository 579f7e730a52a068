/** XYZ to CIELAB, from the tests of colour-science/colour (test_cie_lab.py, BSD-3). White A has x .44757 y .40745. */
export const xyzToLabRows = [
  { xyz: [0.20654008, 0.12197225, 0.05136952], white: "D65", lab: [41.52787529, 52.63858304, 26.92317922] },
  { xyz: [0.1422201, 0.23042768, 0.10495772], white: "D65", lab: [55.11636304, -41.08791787, 30.91825778] },
  { xyz: [0.0781878, 0.06157201, 0.28099326], white: "D65", lab: [29.8056552, 20.01830466, -48.34913874] },
  { xyz: [0.20654008, 0.12197225, 0.05136952], white: "D50", lab: [41.52787529, 51.19354174, 19.91843098] },
  { xyz: [0.20654008, 0.12197225, 0.05136952], white: "A", lab: [41.52787529, 38.48089305, -5.73295122] },
] as const;

/** Bradford from D65 to D50 with whites from x .3127 y .3290 and x .3457 y .3585, from the tests of colour-science/colour. */
export const bradfordD65ToD50 = [
  1.04792979, 0.02294687, -0.05019227, 0.02962781, 0.99043443, -0.0170738, -0.00924304, 0.01505519, 0.75187428,
] as const;

/** sRGB to XYZ in full precision, as carried in culori 4.0.2 (MIT); the printed matrix of IEC 61966-2-1 rounds it. */
export const srgbToXyzMatrix = [
  0.4123907992659593, 0.357584339383878, 0.1804807884018343, 0.2126390058715102, 0.715168678767756, 0.0721923153607337,
  0.0193308187155918, 0.119194779794626, 0.9505321522496607,
] as const;

/** Linear light of 8-bit sRGB codes, worked out from IEC 61966-2-1. */
export const decodedCodes = [
  [10, 0.00303527],
  [11, 0.00334654],
  [128, 0.2158605],
  [188, 0.50288646],
] as const;

/**
 * sRGB codes to CIELAB D50 by two independent colour engines of Debian: little cms 2.14 (transicc -t1 -c0 -i*sRGB -o*Lab)
 * and argyll (xicclu -ff -ir -pl -s255). They agree with each other to about 0.005.
 */
export const srgbToLabD50 = [
  { rgb: [255, 255, 255], lcms: [100, 0, 0], argyll: [100, 0, 0] },
  { rgb: [200, 160, 110], lcms: [68.749, 10.5492, 31.9415], argyll: [68.749, 10.5475, 31.943] },
  { rgb: [115, 82, 68], lcms: [38.2232, 12.7689, 13.9704], argyll: [38.2235, 12.7674, 13.9706] },
  { rgb: [255, 0, 0], lcms: [54.2896, 80.8144, 69.8897], argyll: [54.29, 80.8104, 69.8957] },
  { rgb: [0, 0, 255], lcms: [29.5659, 68.2862, -112.0329], argyll: undefined },
  { rgb: [10, 11, 12], lcms: [2.9784, -0.1657, -0.5133], argyll: undefined },
] as const;
