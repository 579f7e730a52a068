import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { encode, p3OfRgb, type Rgb } from "../../../sample-images/render/colour.ts";
import { displayP3Profile } from "../../../sample-images/render/display-p3-profile.ts";
import { withProfile } from "../../../sample-images/render/photo-file.ts";

const codes = (rgb: Rgb): number[] => rgb.map((v) => Math.round(255 * encode(v)));

/** Colours inside sRGB, in linear light. */
const colours: readonly Rgb[] = [
  [0.18, 0.18, 0.18],
  [0.23, 0.15, 0.09],
  [0.55, 0.42, 0.25],
  [0.06, 0.2, 0.4],
];

describe("the Display P3 profile of the sample photos", () => {
  it.each(colours)("lets another colour engine find the sRGB colour %f %f %f again", async (...rgb) => {
    const size = 32;
    const pixel = Buffer.from(codes(p3OfRgb(rgb)));
    const jpeg = await sharp(Buffer.concat(Array.from({ length: size * size }, () => pixel)), {
      raw: { width: size, height: size, channels: 3 },
    })
      .jpeg({ quality: 100, chromaSubsampling: "4:4:4" })
      .toBuffer();
    const managed = await sharp(withProfile(jpeg, displayP3Profile())).toColourspace("srgb").raw().toBuffer();
    const wanted = codes(rgb);
    // two codes: JPEG rounding and the engine's own
    for (let k = 0; k < 3; k++) expect(Math.abs((managed[k] ?? 0) - (wanted[k] ?? 0))).toBeLessThanOrEqual(2);
    const unmanaged = await sharp(jpeg).raw().toBuffer();
    if (rgb[0] !== rgb[2]) expect(Math.abs((unmanaged[0] ?? 0) - (wanted[0] ?? 0))).toBeGreaterThan(2);
  });
});
