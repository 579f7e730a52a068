/**
 * npm run bench:light -- [SEEDS]: the adjustment on invented deliveries (sensors, lamps and woods drawn at random): error of
 * differences and colours, and how often their 95 % intervals hold.
 */
import { chart24LabD50 } from "../../analysis/colour/chart24-values.ts";
import { deltaE00 } from "../../analysis/colour/delta-e00.ts";
import { lab65FromLab50 } from "../../analysis/colour/lab.ts";
import { colourUncertainty95 } from "../../analysis/compare/difference-model.ts";
import { faceComparison } from "../../analysis/compare/face-difference.ts";
import { greyOfReflectance, type KnownReferences } from "../../analysis/solve/known-references.ts";
import { adjust } from "../../analysis/solve/light-adjustment.ts";
import { inventPhotos, type Scene, type Species } from "./invented-photos.ts";

const seeds = Number(process.argv[2] ?? 3);
const known: KnownReferences = {
  chart: Object.fromEntries(chart24LabD50.map((lab, i) => [`patch-${i + 1}`, lab65FromLab50(lab)])),
  grey: { grey: greyOfReflectance(0.18) },
};
const scenes: readonly Scene[] = [
  "line-ups",
  "line-ups with chart",
  "line-ups with card",
  "one stand, chart",
  "one stand, card",
  "mixed",
];
const woods: readonly Species[] = ["ash", "oak", "walnut", "sapele"];

const quantile = (values: readonly number[], share: number) =>
  values.toSorted((a, b) => a - b)[Math.floor(share * (values.length - 1))] ?? Number.NaN;
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const share = (values: readonly boolean[]) => `${(100 * mean(values.map(Number))).toFixed(0)} %`.padStart(5);

console.log("scene                wood     differences RMS / p95   bias  covered  cannot tell   colour  covered");
for (const scene of scenes) {
  const all: { error: number; u95: number; deltaE: number }[] = [];
  for (const wood of woods) {
    const pairs: typeof all = [];
    const colours: { error: number; u95: number }[] = [];
    for (let seed = 1; seed <= seeds; seed++) {
      const { photos, truth } = inventPhotos(scene, wood, 100 * seed + wood.length);
      const adjustment = adjust(photos, known);
      const compare = faceComparison(adjustment, 2);
      const of = (name: string) => truth.get(name)!;
      const faces = [...new Set(adjustment.parts.map(({ leaf, face }) => `${leaf}/${face}`))].map((name) => {
        const [leaf, face] = name.split("/") as [string, string];
        return { name, leaf, face };
      });
      for (const part of adjustment.parts)
        if (part.known)
          colours.push({
            error: deltaE00(part.lab, of(`${part.leaf}/${part.face}/${part.part}`)),
            u95: colourUncertainty95(part),
          });
      faces.forEach((one, i) => {
        for (const other of faces.slice(0, i))
          for (const { part, deltaE, u95 } of compare(one, other).parts) {
            const real = deltaE00(of(`${one.name}/${part}`), of(`${other.name}/${part}`));
            pairs.push({ error: deltaE - real, u95, deltaE });
          }
      });
    }
    all.push(...pairs);
    print(scene, wood, pairs, colours);
  }
  print(scene, "all", all, []);
}

function print(
  scene: string,
  wood: string,
  pairs: readonly { error: number; u95: number; deltaE: number }[],
  colours: readonly { error: number; u95: number }[],
): void {
  const errors = pairs.map(({ error }) => error);
  const rms = Math.sqrt(mean(errors.map((value) => value * value)));
  const p95 = quantile(
    errors.map((value) => Math.abs(value)),
    0.95,
  );
  const open = pairs.map(({ deltaE, u95 }) => deltaE + u95 > 2 && deltaE - u95 <= 2);
  const colour =
    colours.length === 0
      ? "     -      -"
      : `${quantile(
          colours.map(({ error }) => error),
          0.5,
        ).toFixed(2)}    ${share(colours.map(({ error, u95 }) => error <= u95))}`;
  console.log(
    `${scene.padEnd(20)} ${wood.padEnd(8)} ${rms.toFixed(2).padStart(12)} / ${p95.toFixed(2)}      ${mean(errors).toFixed(2).padStart(5)}    ${share(pairs.map(({ error, u95 }) => Math.abs(error) <= u95))}        ${share(open)}     ${colour}`,
  );
}
