import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { deliveryNoteCsv, doorScheduleCsv, orderCsv } from "./demo-openings.ts";
import { failingShots } from "./failing-shots.ts";
import { goodShots } from "./good-shots.ts";
import { readGrainTile } from "./grain-tile.ts";
import { jobOf } from "./job-file.ts";
import { addGlare, develop, soften } from "./phone.ts";
import { heicOf, jpegOf } from "./photo-file.ts";
import { buildScene } from "./scene.ts";
import { seedOf } from "./seeded.ts";
import type { Shot } from "./shot.ts";
import { sightIn } from "./sight.ts";
import { trace } from "./trace.ts";
import { faceTruths, photoTruth, referenceTruths } from "./truth-file.ts";
import { type Figure, figureOf, type Veneer } from "./wood.ts";

const pathOf = (file: string): string => fileURLToPath(new URL(`../${file}`, import.meta.url));

const save = async (file: string, content: Buffer | string): Promise<void> => {
  await mkdir(dirname(pathOf(file)), { recursive: true });
  await writeFile(pathOf(file), content);
};

const readFigures = async (): Promise<Record<Veneer, Figure>> => ({
  "walnut crown": figureOf("walnut crown", await readGrainTile("Wood_013_COLOR.jpg", true)),
  "ash quarter": figureOf("ash quarter", await readGrainTile("wood10.jpg", false)),
  "sapele quarter": figureOf("sapele quarter", await readGrainTile("cherry.jpg", false)),
});

/** Renders one photo, saves it, and answers what is true of it. */
const render = async (shot: Shot, figures: Record<Veneer, Figure>) => {
  const started = performance.now();
  const scene = buildScene(shot, figures);
  const { light, greyShown, gain, encoding, noise } = shot;
  const exposure = trace(shot.camera, scene.surfaces, light, sightIn(shot.phone, light, greyShown));
  addGlare(exposure, shot.glare, greyShown);
  const codes = develop(soften(exposure, shot.softnessPx), shot.phone, {
    gain,
    encoding,
    noise,
    seed: seedOf(shot.file),
  });
  const content = await (shot.file.endsWith(".heic") ? heicOf(shot, codes) : jpegOf(shot, codes));
  if (content) await save(shot.file, content);
  else console.log(`${shot.file}: heif-enc is not installed (Debian: libheif-examples); the file is left as it was`);
  console.log(
    `${shot.file}  ${Math.round((content?.length ?? 0) / 1024)} kB  ${((performance.now() - started) / 1000).toFixed(1)} s`,
  );
  return photoTruth(shot, scene);
};

/** Two files that are no whole photo: one whose sending broke off, one that only bears a photo's name. */
const saveBroken = async (): Promise<void> => {
  const whole = await readFile(pathOf("good/w04-a.jpg"));
  await save("failing/truncated.jpg", whole.subarray(0, Math.round(whole.length * 0.4)));
  await save(
    "failing/not-a-photo.jpg",
    "Delivery of leaves: please leave the lift free on Tuesday from half past ten.\n",
  );
};

const broken = [
  { gate: "truncated", file: "failing/truncated.jpg" },
  { gate: "not-a-photo", file: "failing/not-a-photo.jpg" },
];

type Rendered = Awaited<ReturnType<typeof render>>;

interface Truth {
  readonly faces: ReturnType<typeof faceTruths>;
  readonly photos: readonly Rendered[];
  readonly failing: readonly Rendered[];
}

/** What the last run left, for the photos that this one does not render. */
const truthBefore = async (): Promise<Truth> => JSON.parse(await readFile(pathOf("truth.json"), "utf8")) as Truth;

const only = process.argv.slice(2);
const all = only.length === 0;
const figures = await readFigures();
const good = goodShots();
const failing = failingShots();
const before = all ? null : await truthBefore();

/** Renders the photos asked for, in order, and takes the truth of the others as it was. */
const renderEach = async (shots: readonly Shot[], kept: readonly Rendered[] | undefined): Promise<Rendered[]> => {
  const photos: Rendered[] = [];
  for (const shot of shots) {
    const old = kept?.find(({ file }) => file === shot.file);
    const asked = all || only.some((part) => shot.file.includes(part));
    photos.push(asked || !old ? await render(shot, figures) : old);
  }
  return photos;
};

const photos = await renderEach(good, before?.photos);
const refused = await renderEach(failing, before?.failing);
await saveBroken();
const truth = {
  note: "For tests only. Pixels are those of the upright photo, (0, 0) is the outer corner of the top left one; corners go top left, top right, bottom right, bottom left; colours are CIELAB, D65, 2 degrees.",
  faces: before?.faces ?? faceTruths(figures),
  references: referenceTruths(),
  photos,
  failing: [...refused.map((photo, i) => ({ gate: failing[i]?.gate, ...photo })), ...broken],
};
await save("truth.json", `${JSON.stringify(truth)}\n`);
await save("job.json", `${JSON.stringify(jobOf(good), null, 1)}\n`);
await save("door-schedule.csv", doorScheduleCsv());
await save("order.csv", orderCsv());
await save("delivery-note.csv", deliveryNoteCsv());
