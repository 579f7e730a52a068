/**
 * npm run bench: our speed against peers in the same run, as ratios of CPU time, on the built program, which is what users
 * run. One line a figure: what, ratio, goal, whether it is met.
 */
import { rm } from "node:fs/promises";
import { type Lab65 as CuloriLab, converter, differenceCiede2000 } from "culori";
import sharp from "sharp";
import { uniformFrom } from "../../analysis/algebra/seeded-random.ts";
import { type BenchPhoto, makeBenchPhotos } from "./bench-photos.ts";
import { built } from "./built.ts";
import { figure, timesPeer } from "./figures.ts";
import { memoryOfChild, twoAgainstOne } from "./processes.ts";
import { ratio } from "./ratio.ts";
import { warpPerspective } from "./warp-perspective.ts";

const { measurePhoto } =
  await built<typeof import("../../server/workers/measure-photo.ts")>("server/workers/measure-photo");
const { lookClosely } =
  await built<typeof import("../../server/workers/look-closely.ts")>("server/workers/look-closely");
const { resample } = await built<typeof import("../../analysis/rectify/resample.ts")>("analysis/rectify/resample");
const { faceView } = await built<typeof import("../../analysis/rectify/face-view.ts")>("analysis/rectify/face-view");
const { plainLens } = await built<typeof import("../../analysis/lens.ts")>("analysis/lens");
const { uprightPixels } = await built<typeof import("../../analysis/pixels.ts")>("analysis/pixels");
const { project } = await built<typeof import("../../analysis/homography.ts")>("analysis/homography");
const { encodeCurve } = await built<typeof import("../../analysis/colour/encoding.ts")>("analysis/colour/encoding");
const { deltaE00Of } = await built<typeof import("../../analysis/colour/delta-e00.ts")>("analysis/colour/delta-e00");
const { sampleFace } =
  await built<typeof import("../../analysis/sample/face-sample.ts")>("analysis/sample/face-sample");

const { sample, plain, p3, codeHidden, large, folder } = await makeBenchPhotos();
const bare =
  ({ bytes }: BenchPhoto) =>
  () =>
    sharp(bytes, { ignoreIcc: true }).raw().toBuffer();
const analysis =
  ({ request }: BenchPhoto) =>
  () =>
    measurePhoto(request);
const size = ({ bytes }: BenchPhoto): string => `${(bytes.length / 1e6).toFixed(1)} MB`;

for (const [what, photo, goal] of [
  [`whole analysis, 12 MP of ${size(plain)}, codes at half size`, plain, 3.5],
  [`the same as rendered, without noise, ${size(sample)}`, sample, null],
  [`whole analysis, 12 MP of ${size(codeHidden)}, codes at full size too`, codeHidden, 5],
  [`whole analysis, 48 MP of ${size(large)}`, large, 2.5],
] as const) {
  const { kind } = await measurePhoto(photo.request);
  if (kind !== "measured") throw new Error(`${what}: ${kind}`);
  timesPeer(what, await ratio(analysis(photo), bare(photo)), "its decode", goal);
}
timesPeer("whole analysis of a Display P3 photo", await ratio(analysis(p3), analysis(plain)), "of an sRGB one", 1.1);

const measured = await measurePhoto(plain.request);
const corners = measured.kind === "measured" ? measured.faces[0]?.corners : undefined;
const layout = plain.request.shows[0]?.layout;
const { data, info } = await sharp(plain.bytes, { ignoreIcc: true })
  .rotate()
  .raw()
  .toBuffer({ resolveWithObject: true });
const pixels = uprightPixels(data, info.width, info.height, "srgb");
const view = corners && layout && faceView(corners, layout, plainLens(info.width, info.height));
if (!view) throw new Error("no outline");

const look = { path: plain.request.path, corners, layout, covers: [] };
timesPeer("looking closely at a face", await ratio(() => lookClosely(look), bare(plain)), "bare decode", null);

const straight = resample(pixels, view, 1);
const warp = await warpPerspective(pixels, view.toPhoto, straight);
const apart =
  warp().reduce((sum, code, i) => sum + Math.abs(255 * encodeCurve(straight.data[i]!) - code), 0) /
  straight.data.length;
if (!(apart < 1)) throw new Error(`our straightened face and OpenCV's differ by ${apart} levels in the mean`);
timesPeer(
  `straightening a face at 1 px/mm (${apart.toFixed(2)} levels apart)`,
  await ratio(() => resample(pixels, view, 1), warp),
  "OpenCV.js",
  0.65,
);

const random = uniformFrom(1);
const colours = Float64Array.from({ length: 600_000 }, (_, i) => (i % 3 === 0 ? 30 + 50 * random() : 20 * random()));
const objects: CuloriLab[] = Array.from({ length: colours.length / 3 }, (_, i) => ({
  mode: "lab65",
  l: colours[3 * i] ?? 0,
  a: colours[3 * i + 1] ?? 0,
  b: colours[3 * i + 2] ?? 0,
}));
let sink = 0;
const ours = () => {
  for (let i = 3; i < colours.length; i += 3)
    sink += deltaE00Of(
      colours[i]!,
      colours[i + 1]!,
      colours[i + 2]!,
      colours[i - 3]!,
      colours[i - 2]!,
      colours[i - 1]!,
    );
};
const peer = differenceCiede2000();
const culori = () => {
  for (let i = 1; i < objects.length; i += 1) sink += peer(objects[i]!, objects[i - 1]!);
};
timesPeer("200,000 CIEDE2000 differences", await ratio(ours, culori), "culori", 0.5);

const toLab = converter("lab65");
const place = {
  toPhoto: (point: readonly [number, number]) => project(view.toPhoto, point),
  photoWidth: info.width,
  photoHeight: info.height,
};
const colourOfParts = () => sampleFace({ leaf: "", face: "A" }, resample(pixels, view, 2), layout, [], place);
const perCell = () => {
  const cells = resample(pixels, view, 2).data;
  for (let i = 0; i < cells.length; i += 3)
    sink += toLab({ mode: "lrgb", r: cells[i]!, g: cells[i + 1]!, b: cells[i + 2]! }).l;
};
timesPeer("colours of the parts of a face", await ratio(colourOfParts, perCell), "culori's", null);
if (!Number.isFinite(sink)) throw new Error("a difference was not a number");

const rounds = await twoAgainstOne(plain.request);
const middle = rounds[rounds.length >> 1] ?? Number.NaN;
const [least, most] = [rounds[0] ?? Number.NaN, rounds.at(-1) ?? Number.NaN];
figure(
  "two child processes, photos a second by the clock",
  `${middle.toFixed(2)} x one`,
  ">= 1.5",
  middle >= 1.5,
  `${least.toFixed(2)} to ${most.toFixed(2)} in ${rounds.length} rounds`,
);

const memory = await memoryOfChild(plain.request);
const [tenth, last] = [memory.after[9] ?? Number.NaN, memory.after.at(-1) ?? Number.NaN];
figure(
  "memory of a child over forty photos, the most",
  `${memory.most.toFixed(0)} MB`,
  "<= 350",
  memory.most <= 350,
  "",
);
figure(
  "memory after the fortieth",
  `${(last / tenth).toFixed(2)} x the tenth`,
  "<= 1.1",
  last <= 1.1 * tenth,
  `${last.toFixed(0)} MB, ${tenth.toFixed(0)} MB`,
);
await rm(folder, { recursive: true });
