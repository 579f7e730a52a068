/**
 * npm run bench:photos -- DIR: measures the photos of DIR (job.json and photos/) without any help, prints what came of
 * them, and writes predictions.json there.
 */
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { inspectPhotos } from "../../server/use-cases/inspect-photos.ts";

const folder = process.argv[2];
const out = process.argv[3];
if (!folder) {
  console.error(
    "Say which folder: npm run bench:photos -- DIR [FILE]. It holds photos/ and job.json; predictions go to FILE, else DIR/predictions.json.",
  );
  process.exit(2);
}
const started = performance.now();
const result = await inspectPhotos(folder, (done, of) => process.stderr.write(`\r${done} of ${of} photos`));
const seconds = (performance.now() - started) / 1000;
process.stderr.write("\n");
/** The judging script's own words for the gates. */
const judged: Readonly<Record<string, string>> = {
  "face-clipped": "clipped",
  "too-dark": "clipped",
  "cut-off": "cut_off",
  "mixed-light": "mixed_light",
  "no-reference": "no_reference",
};
const refused = result.refused.map(({ photo, reasons }) => ({
  photo,
  reasons: [...new Set(reasons.map((reason) => judged[reason] ?? reason))],
}));
await writeFile(out ?? join(folder, "predictions.json"), JSON.stringify({ ...result, refused }));

const u95 = (values: readonly (number | null)[]) => {
  const known = values.filter((value) => value !== null).toSorted((a, b) => a - b);
  return known.length === 0 ? "-" : (known[Math.floor(known.length / 2)] ?? 0).toFixed(2);
};
const parts = result.faces.flatMap((face) => face.parts);
const rows: [string, string][] = [
  [
    "faces with colours",
    `${result.faces.length}, ${parts.length} parts, median 95 % uncertainty of the colour ${u95(parts.map((part) => part.u95))}`,
  ],
  ["differences", `${result.pairs.length}, median 95 % uncertainty ${u95(result.pairs.map((pair) => pair.u95))}`],
  ["outlines", `${result.outlines.length}`],
  [
    "charts",
    `${result.charts.length}, a patch left out comes out ${u95(result.charts.map(({ leftOut }) => 100 * leftOut))} % off, median`,
  ],
  ["marks proposed", `${result.marks.length}`],
  ["openings planned", `${result.plan.length}`],
  ["photos tied to no other", `${result.untied.flat().length}`],
  ["refused", `${result.refused.length}`],
  ["time", `${seconds.toFixed(1)} s`],
];
for (const [what, figure] of rows) console.log(`${what.padEnd(22)}${figure}`);
for (const { photo, reasons, advice } of result.refused)
  console.log(`  ${photo}  ${reasons.join(", ")}: ${advice[0] ?? ""}`);
