/**
 * npm run bench: the adjustment of a large delivery. Leaves of three patterns, each face photographed with a chart, and
 * line-ups of three faces that overlap by one.
 */
import { lab65FromLab50 } from "../../analysis/colour/lab.ts";
import type { PartKind } from "../../analysis/leaf-parts.ts";
import { makeDelivery, type PartShape, type Shown } from "../analysis/solve/synthetic-delivery.ts";
import { chart24 } from "../published/chart24.ts";
import { built } from "./built.ts";
import { figure } from "./figures.ts";

const { adjust } = await built<typeof import("../../analysis/solve/light-adjustment.ts")>(
  "analysis/solve/light-adjustment",
);
const { faceComparison } = await built<typeof import("../../analysis/compare/face-difference.ts")>(
  "analysis/compare/face-difference",
);

const known = {
  chart: Object.fromEntries(chart24.map(({ labD50 }, i) => [`patch-${i + 1}`, lab65FromLab50(labD50)])),
};

const part = (name: string, kind: PartKind, columns: number, rows: number): PartShape => ({
  name,
  kind,
  columns,
  rows,
});
const frame = [
  part("stile-left", "stile", 2, 33),
  part("stile-right", "stile", 2, 33),
  part("rail-top", "rail", 8, 2),
  part("rail-bottom", "rail", 8, 3),
];
/** Cells of 60 mm on leaves of 762 x 1981 mm: three boards, one panel, two panels. */
const patterns: readonly (readonly PartShape[])[] = [
  [part("left", "panel", 3, 33), part("middle", "panel", 3, 33), part("right", "panel", 3, 33)],
  [...frame, part("panel", "panel", 6, 20)],
  [...frame, part("panel-top", "panel", 6, 9), part("panel-bottom", "panel", 6, 12), part("rail-lock", "rail", 8, 2)],
];

const deliveryOf = (leaves: number) => {
  const faces = Array.from({ length: leaves }, (_, i) => [`W${i}/A`, `W${i}/B`]).flat();
  const singles = faces.map((face, i): Shown => ({ photo: `s${i}`, faces: [face], reference: "chart" }));
  const lineUps = Array.from(
    { length: leaves },
    (_, i): Shown => ({ photo: `l${i}`, faces: [0, 1, 2].map((k) => faces[(2 * i + k) % faces.length]!) }),
  );
  return makeDelivery([...singles, ...lineUps], 3, 0.15, (face) => patterns[Number(face.slice(1, -2)) % 3]!);
};

const cpuSeconds = <Result>(run: () => Result): { readonly result: Result; readonly seconds: number } => {
  const before = process.cpuUsage();
  const result = run();
  const { user, system } = process.cpuUsage(before);
  return { result, seconds: (user + system) / 1e6 };
};

const best = (leaves: number) => {
  const { photos } = deliveryOf(leaves);
  const cells = photos
    .flatMap(({ faces }) => faces.flatMap(({ parts }) => parts))
    .reduce((n, p) => n + p.cells.length, 0);
  const runs = Array.from({ length: 5 }, () => cpuSeconds(() => adjust(photos, known)));
  const seconds = runs.map((run) => run.seconds).toSorted((a, b) => a - b);
  return { adjustment: runs[0]!.result, seconds: seconds[2]!, photos: photos.length, cells };
};

const usual = best(33);
const half = best(100);
const whole = best(200);
figure(`adjustment of ${usual.photos} photos`, `${usual.seconds.toFixed(2)} s CPU`, "", null, `${usual.cells} cells`);
figure(
  `adjustment of ${whole.photos} photos of 200 leaves`,
  `${whole.seconds.toFixed(2)} s CPU`,
  "<= 2",
  whole.seconds <= 2,
  `${whole.cells} cells, median of 5`,
);
const growth = whole.seconds / half.seconds;
figure(
  "the same against half the photos",
  `${growth.toFixed(2)} x`,
  "<= 2.3",
  growth <= 2.3,
  `${half.seconds.toFixed(2)} s`,
);

const compare = faceComparison(whole.adjustment, 2);
const names = [
  ...new Map(whole.adjustment.parts.map(({ leaf, face }) => [`${leaf}/${face}`, { leaf, face }])).values(),
];
const compared = cpuSeconds(() => {
  names.forEach((one, i) => {
    for (const other of names.slice(0, i)) compare(one, other);
  });
});
figure(`comparing every two of ${names.length} faces`, `${compared.seconds.toFixed(1)} s CPU`, "", null, "");
