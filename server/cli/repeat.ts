import { existsSync } from "node:fs";
import { readConfig } from "../config.ts";
import type { RepeatGauge, RepeatReport, RepeatWay } from "../contract/repeat.ts";
import { openSite } from "../open-site.ts";
import { Refusal } from "../problem.ts";
import { type RepeatedPhotos, repeatOfFolder } from "../use-cases/repeat-photos.ts";
import { viewRepeat } from "../use-cases/view-repeat.ts";
import { progressBar } from "./progress-bar.ts";
import { columns, say } from "./say.ts";

export interface RepeatOptions {
  readonly json: boolean;
  readonly delivery?: string;
  readonly data?: string;
}

const wayWords: Readonly<Record<RepeatWay["way"], { readonly title: string; readonly between: string }>> = {
  "by-reference": {
    title: "Faces one by one, by the card or chart in the photo",
    between: "two faces in a photo each",
  },
  "side-by-side": { title: "Faces side by side in one photo", between: "two faces in one photo" },
};

const two = (value: number): string => value.toFixed(2);

const wayLines = ({ way, spreads, limit }: RepeatWay): string[] => [
  `${wayWords[way].title}: standard deviation of one photo`,
  columns([
    ["parts", "L*", "a*", "b*", "ΔE00", "95 % interval", "limit", "photos", "faces", "freedom"],
    ...spreads.map(({ parts, lab, deltaE, interval, limit: own, photos, faces, degreesOfFreedom }) => [
      parts,
      ...lab.map(two),
      two(deltaE),
      interval.map(two).join(" to "),
      two(own),
      String(photos),
      String(faces.length),
      String(degreesOfFreedom),
    ]),
  ]),
  limit === null
    ? "Too few repeats to go by."
    : `Between ${wayWords[way].between}, less than ΔE00 ${two(limit)} is no reliable difference.`,
  "",
];

const gaugeLines = ({ by, appraisers, faces, times, rows, limit }: RepeatGauge): string[] => [
  `${by === "phone" ? "Phones" : "People"} (${appraisers.join(", ")}), ${faces.length} faces, ${times} times each: standard deviations`,
  columns([
    ["", "repeat", "reproduce", "both", "leaves", "total", "share", "classes"],
    ...rows.map(({ axis, repeat, reproduce, gauge, part, total, gaugePercent, classes }) => [
      axis === "colour" ? "ΔE00" : `${axis}*`,
      ...[repeat, reproduce, gauge, part, total].map(two),
      `${gaugePercent.toFixed(1)} %`,
      String(classes),
    ]),
  ]),
  `Between photos by two ${by === "phone" ? "phones" : "people"}, less than ΔE00 ${two(limit)} is no reliable difference.`,
  "",
];

const words = (report: RepeatReport, refused: RepeatedPhotos["refused"]): string =>
  [
    ...(report.ways.length === 0 ? ["No face was photographed more than once.", ""] : report.ways.flatMap(wayLines)),
    ...report.gauges.flatMap(gaugeLines),
    ...refused.map(({ photo, advice }) => `${photo}: ${advice.join(" ")}`),
    ...report.toShoot,
  ]
    .join("\n")
    .trimEnd();

const ofDelivery = async (id: string, dataFolder: string) => {
  if (!existsSync(dataFolder)) throw new Refusal(`There is no data folder ${dataFolder}.`);
  const open = await openSite(dataFolder);
  try {
    if (!open.site.store.list().includes(id)) throw new Refusal(`There is no delivery ${id} in ${dataFolder}.`);
    await open.site.measuring.settled(id);
    return viewRepeat(open.site, id);
  } finally {
    await open.close();
  }
};

/** Tells how repeatable photos are: those of a folder with its job.json, or those of a delivery. One of the two is given. */
export const repeat = async (folder: string | undefined, options: RepeatOptions): Promise<void> => {
  if (folder !== undefined) {
    const report = await repeatOfFolder(folder, progressBar("Measuring photos"));
    say(options.json, report, () => words(report, report.refused));
    return;
  }
  const { dataFolder } = readConfig({
    ...process.env,
    ...(options.data === undefined ? {} : { LEAFLEDGER_DATA: options.data }),
  });
  const report = await ofDelivery(options.delivery ?? "", dataFolder);
  say(options.json, report, () => words(report, []));
};
