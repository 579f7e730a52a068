import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { displayP3Profile } from "../../../sample-images/render/display-p3-profile.ts";
import { encodingOf } from "../../../server/images/icc.ts";
import { ofClass, withPower } from "../../support/odd-pictures/icc-profile.ts";

/** The profile that sharp's own engine embeds under this name. */
const embedded = async (name: "srgb" | "p3" | "cmyk"): Promise<Buffer> => {
  const made = sharp({ create: { width: 8, height: 8, channels: 3, background: "#8a6a50" } });
  const photo = await made.withIccProfile(name).jpeg().toBuffer();
  const { icc } = await sharp(photo).metadata();
  if (!icc) throw new Error(`no profile was embedded for ${name}`);
  return icc;
};

/** A profile with the three primaries exchanged for others, media-relative XYZ at D50. */
const withPrimaries = (profile: Buffer, primaries: readonly (readonly number[])[]): Buffer => {
  const out = Buffer.from(profile);
  ["rXYZ", "gXYZ", "bXYZ"].forEach((name, i) => {
    const offset = out.readUInt32BE(out.indexOf(name, 128, "latin1") + 4);
    primaries[i]?.forEach((value, k) => {
      out.writeInt32BE(Math.round(value * 65536), offset + 8 + 4 * k);
    });
  });
  return out;
};

describe("the space of a profile", () => {
  test("is sRGB without a profile, and with the sRGB profile", async () => {
    expect(encodingOf(undefined)).toBe("srgb");
    expect(encodingOf(await embedded("srgb"))).toBe("srgb");
  });

  test("is Display P3 with the profile of sharp and with that of the rendered phone", async () => {
    expect(encodingOf(await embedded("p3"))).toBe("display-p3");
    expect(encodingOf(displayP3Profile())).toBe("display-p3");
  });

  test("is told by the primaries, not by the name", async () => {
    const [srgb, p3] = [await embedded("srgb"), await embedded("p3")];
    // Primaries of Adobe RGB (1998) adapted to D50, from memory.
    const adobe = [
      [0.6097, 0.3111, 0.0195],
      [0.2053, 0.6257, 0.0609],
      [0.1492, 0.0632, 0.7446],
    ];
    expect(encodingOf(withPrimaries(srgb, adobe))).toBeNull();
    expect(encodingOf(withPrimaries(p3, adobe))).toBeNull();
    // sRGB primaries adapted to D50, as in the ICC's own sRGB profile.
    const primaries = [
      [0.4361, 0.2225, 0.0139],
      [0.3851, 0.7169, 0.0971],
      [0.1431, 0.0606, 0.7141],
    ];
    expect(encodingOf(withPrimaries(p3, primaries))).toBe("srgb");
  });

  test("is unknown for a printer's profile, which has no primaries", async () => {
    expect(encodingOf(await embedded("cmyk"))).toBeNull();
  });

  test("C50: is unknown for the profile of a scanner or printer, whatever primaries it names", async () => {
    const srgb = await embedded("srgb");
    for (const machine of ["scnr", "prtr"] as const) expect(encodingOf(ofClass(srgb, machine))).toBeNull();
  });

  test("C50: is unknown where one channel has another curve than sRGB; a power close to it passes", async () => {
    const p3 = await embedded("p3");
    for (const power of [1, 1.8, 2, 2.4]) expect(encodingOf(withPower(p3, power)), String(power)).toBeNull();
    expect(encodingOf(withPower(p3, 2.2))).toBe("display-p3");
  });

  test("is unknown for a damaged profile, wherever it is cut", async () => {
    const whole = await embedded("p3");
    const tableEnd = 132 + 12 * whole.readUInt32BE(128);
    for (const length of [0, 1, 128, 131, 140, tableEnd]) expect(encodingOf(whole.subarray(0, length))).toBeNull();
    expect(encodingOf(Buffer.alloc(4e6))).toBeNull();
    expect(encodingOf(Buffer.alloc(4e6, 0xff))).toBeNull();
    const farOffset = Buffer.from(whole);
    farOffset.writeUInt32BE(0xfffffff0, farOffset.indexOf("rXYZ", 128, "latin1") + 4);
    expect(encodingOf(farOffset)).toBeNull();
  });
});
