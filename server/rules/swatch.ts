import { converter, formatHex, type Lab65, toGamut } from "culori";

const toRgb = converter("rgb");
const intoScreen = toGamut("rgb", "oklch");

/** A colour for the screen, "#rrggbb" in sRGB, of CIELAB D65. A guide for the eye: the numbers decide. */
export const swatch = ([l, a, b]: readonly [number, number, number]): string => {
  const lab: Lab65 = { mode: "lab65", l, a, b };
  return formatHex(intoScreen(toRgb(lab)));
};
