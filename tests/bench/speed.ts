/** npm run bench: our speed against peers in the same run, as ratios of CPU time. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type Lab65 as CuloriLab, converter, differenceCiede2000 } from "culori";
import sharp from "sharp";
import { uniformFrom } from "../../analysis/algebra/seeded-random.ts";
import { deltaE00Of } from "../../analysis/colour/delta-e00.ts";
import { fitHomography, project } from "../../analysis/homography.ts";
import { plainLens } from "../../analysis/lens.ts";
import type { Point } from "../../analysis/pixels.ts";
import { resample } from "../../analysis/rectify/resample.ts";
import { cornersMm } from "../../analysis/reference-card.ts";
import { sampleFace } from "../../analysis/sample/face-sample.ts";
import { jobFile } from "../../server/contract/job-file.ts";
import { decode } from "../../server/images/decode.ts";
import { measurePhoto } from "../../server/workers/measure-photo.ts";
import { ratio } from "./ratio.ts";

const samples = join(import.meta.dirname, "../../sample-images");
const twelveMegapixels = "good/w04-b.jpg";

const job = jobFile.parse(JSON.parse(await readFile(join(samples, "job.json"), "utf8")));
const photo = job.photos.find(({ file }) => file === twelveMegapixels);
const leaf = job.leaves.find(({ id }) => id === photo?.shows[0]?.leaf);
if (!photo || !leaf) throw new Error(`${twelveMegapixels} is not in job.json`);
const layout = {
  widthMm: leaf.width_mm,
  heightMm: leaf.height_mm,
  parts: leaf.parts.map(({ part, kind, grain, rect_mm }) => ({ name: part, kind, grain, rectMm: rect_mm })),
};
const path = join(samples, twelveMegapixels);
const bytes = await readFile(path);
const bare = () => sharp(bytes, { ignoreIcc: true }).raw().toBuffer();

const print = (what: string, { ratio: times, oursMs, peerMs }: Awaited<ReturnType<typeof ratio>>, peer: string) =>
  console.log(
    `${what.padEnd(44)}${times.toFixed(2).padStart(7)} x ${peer}  (${oursMs.toFixed(0)} ms, ${peerMs.toFixed(0)} ms)`,
  );

const analyse = () =>
  measurePhoto({
    photo: "bench",
    path,
    camera: "",
    shows: [{ leaf: leaf.id, face: "B", layout, corners: null }],
    references: ["card"],
    labels: [],
  });
const outcome = await analyse();
if (outcome.kind !== "measured") throw new Error(`the 12 MP photo was not measured: ${JSON.stringify(outcome)}`);
print("whole analysis of a 12 MP photo", await ratio(analyse, bare), "bare decode");

const { pixels } = await decode(path);
const corners = outcome.faces[0]?.corners ?? [];
const toPhoto = fitHomography(cornersMm(layout.widthMm, layout.heightMm), corners);
if (!toPhoto) throw new Error("no outline");
const view = {
  widthMm: layout.widthMm,
  heightMm: layout.heightMm,
  toPhoto,
  lens: plainLens(pixels.width, pixels.height),
};
print("straightening a face at 1 px/mm", await ratio(() => resample(pixels, view, 1), bare), "bare decode");

const random = uniformFrom(1);
const colours = Float64Array.from({ length: 600_000 }, (_, i) => (i % 3 === 0 ? 30 + 50 * random() : 20 * random()));
const objects: CuloriLab[] = Array.from({ length: colours.length / 3 }, (_, i) => ({
  mode: "lab65",
  l: colours[3 * i] ?? 0,
  a: colours[3 * i + 1] ?? 0,
  b: colours[3 * i + 2] ?? 0,
}));
const peer = differenceCiede2000();
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
const theirs = () => {
  for (let i = 1; i < objects.length; i += 1) sink += peer(objects[i]!, objects[i - 1]!);
};
print("200,000 CIEDE2000 differences", await ratio(ours, theirs), "culori");

const toLab = converter("lab65");
const place = {
  toPhoto: (point: Point) => project(toPhoto, point),
  photoWidth: pixels.width,
  photoHeight: pixels.height,
};
const colourOfParts = () => sampleFace({ leaf: leaf.id, face: "B" }, resample(pixels, view, 2), layout, [], place);
const perPixel = () => {
  const { data } = resample(pixels, view, 2);
  for (let i = 0; i < data.length; i += 3)
    sink += toLab({ mode: "lrgb", r: data[i]!, g: data[i + 1]!, b: data[i + 2]! }).l;
};
print("colours of the parts of a face", await ratio(colourOfParts, perPixel), "culori for every 2 mm");
if (!Number.isFinite(sink)) throw new Error("a difference was not a number");
