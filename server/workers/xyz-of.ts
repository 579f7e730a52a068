import { type Matrix3, multiply3 } from "../../analysis/algebra/matrix3.ts";
import { srgbToXyz, toSrgbPrimaries } from "../../analysis/colour/encoding.ts";
import type { Encoding } from "../../analysis/pixels.ts";

/** From a photo's linear light to XYZ as its profile says: good enough to tell a mark from the timber round it. */
export const xyzOf = (encoding: Encoding): Matrix3 => multiply3(srgbToXyz, toSrgbPrimaries(encoding));
