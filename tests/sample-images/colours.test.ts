import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decode, lab65OfRgb, type Rgb, rgbOfLab65, times } from "../../sample-images/render/colour.ts";
import { colourMatrixOf } from "../../sample-images/render/colour-matrix.ts";
import { phones } from "../../sample-images/render/phone.ts";
import { sensitivitiesOf } from "../../sample-images/render/sensor.ts";
import { solveLinear } from "../../sample-images/render/solve-linear.ts";
import { type Corners, type PhotoTruth, readTruth, samplePath } from "./sample-files.ts";

const truth = await readTruth();
const card = truth.references.find(({ made }) => made === "card-with-grey");

/** Mean of linear light over a quadrilateral shrunk by `inset`; 60 x 60 points. */
const meanInside = (data: Buffer, width: number, corners: Corners, inset: number): number[] => {
  const sum = [0, 0, 0];
  const count = 60;
  const [a, b, c, d] = corners;
  if (!a || !b || !c || !d) throw new Error("four corners are wanted");
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) {
      const u = inset + ((1 - 2 * inset) * (i + 0.5)) / count;
      const v = inset + ((1 - 2 * inset) * (j + 0.5)) / count;
      const [x, y] = ([0, 1] as const).map(
        (k) => (1 - v) * ((1 - u) * a[k] + u * b[k]) + v * ((1 - u) * d[k] + u * c[k]),
      ) as [number, number];
      const at = (Math.floor(y) * width + Math.floor(x)) * 3;
      for (let k = 0; k < 3; k++) sum[k]! += decode(data[at + k]! / 255) / (count * count);
    }
  return sum;
};

/** The phone of the stand takes its channels to sRGB by this; light and white balance act before. */
const colourMatrix = colourMatrixOf(sensitivitiesOf(phones.brannoch.filters));
const channelsOf = (rgb: readonly number[]): number[] => solveLinear(colourMatrix, rgb);

const trueLab = (leaf: string, face: string): readonly number[] =>
  truth.faces.find((one) => one.leaf === leaf && one.face === face)?.parts[0]?.lab ?? [];

/** Lab of the leaf in a photo, the light taken from the card's two mid greys alone, less the truth. */
const errorOf = async ({ file, leaves, references }: PhotoTruth): Promise<number[]> => {
  const { data, info } = await sharp(samplePath(file)).autoOrient().raw().toBuffer({ resolveWithObject: true });
  const gains = ["grey-50", "grey-25"].map((name) => {
    const corners = references[0]?.patches.find((patch) => patch.name === name)?.corners_px ?? [];
    const lab = card?.patches.find((patch) => patch.name === name)?.lab ?? [0, 0, 0];
    const known = channelsOf(rgbOfLab65(lab));
    return channelsOf(meanInside(data, info.width, corners, 0.2)).map((v, k) => v / known[k]!);
  });
  const [leaf] = leaves;
  if (!leaf?.corners_px) throw new Error(`${file} shows no leaf`);
  const seen = channelsOf(meanInside(data, info.width, leaf.corners_px, 0.03)).map(
    (v, k) => (2 * v) / (gains[0]![k]! + gains[1]![k]!),
  );
  const lab = lab65OfRgb(times(colourMatrix, seen as unknown as Rgb));
  return trueLab(leaf.leaf, leaf.face).map((v, k) => lab[k]! - v);
};

const side = ({ leaves, references }: PhotoTruth): "left" | "right" | "on" => {
  const [from, to] = [leaves[0]?.corners_px?.[0]?.[0] ?? 0, leaves[0]?.corners_px?.[1]?.[0] ?? 0];
  const at = references[0]?.corners_px?.[0]?.[0] ?? 0;
  return at < from ? "left" : at > to ? "right" : "on";
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const byCard = truth.photos.filter(({ kind, references }) => kind === "single" && references[0]?.kind === "card");

describe("the walnut photos of one stand", () => {
  it.each(["left", "right"] as const)(
    "bear the true colours, but for one offset of the light, with the card on the %s",
    async (where) => {
      const photos = byCard.filter((photo) => side(photo) === where);
      expect(photos.length).toBeGreaterThanOrEqual(4);
      const errors = await Promise.all(photos.map(errorOf));
      for (const k of [0, 1, 2]) {
        const offset = median(errors.map((error) => error[k] ?? Number.NaN));
        // the light falls off by some percent between card and leaf: at most 1.5 in L*
        expect(Math.abs(offset)).toBeLessThan(1.5);
        // it hardly changes from photo to photo, while the leaves lie 5 apart in L*
        for (const [i, error] of errors.entries())
          expect(Math.abs((error[k] ?? Number.NaN) - offset), `${photos[i]?.file}, ${"Lab"[k]}`).toBeLessThan(
            k === 0 ? 0.6 : 0.9,
          );
      }
    },
  );
});
