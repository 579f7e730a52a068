import { apply3 } from "../../analysis/algebra/matrix3.ts";
import { decodeTable, encodeCurve, toSrgbPrimaries } from "../../analysis/colour/encoding.ts";
import type { Encoding, Pixels } from "../../analysis/pixels.ts";

const codeOf = (light: number): number => Math.round(255 * encodeCurve(Math.min(1, Math.max(0, light))));

/** 8-bit sRGB codes of linear light 0..1 in the primaries of `encoding`; what sRGB cannot hold is clipped. Interleaved RGB. */
export const srgbCodes = (light: Float32Array, encoding: Encoding): Uint8Array => {
  if (encoding === "srgb") return Uint8Array.from(light, codeOf);
  const toSrgb = toSrgbPrimaries(encoding);
  const codes = new Uint8Array(light.length);
  for (let at = 0; at < light.length; at += 3)
    codes.set(apply3(toSrgb, [light[at]!, light[at + 1]!, light[at + 2]!]).map(codeOf), at);
  return codes;
};

/** The same for a picture of code values; one in sRGB is given back as it is. */
export const picturedInSrgb = ({ data, encoding }: Pick<Pixels, "data" | "encoding">): Uint8Array => {
  if (encoding === "srgb") return data;
  const linear = decodeTable();
  return srgbCodes(
    Float32Array.from(data, (code) => linear[code]!),
    encoding,
  );
};
