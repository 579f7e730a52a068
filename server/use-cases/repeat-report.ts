import { type ColourGauge, studyColour } from "../../analysis/repeat/colour-gauge.ts";
import type { GaugeFigures } from "../../analysis/repeat/gauge.ts";
import type { RepeatReading } from "../../analysis/repeat/repeat-readings.ts";
import { repeatabilityOf, type WaySpread } from "../../analysis/repeat/repeatability.ts";
import { leastFreedom, limitFactor, type Spread } from "../../analysis/repeat/spread.ts";
import type { RepeatGauge, RepeatReport, RepeatWay } from "../contract/repeat.ts";

/** By whom and with what a photo was taken; null where that is not known. */
export interface Taken {
  readonly phone: string | null;
  readonly person: string | null;
}

const rowOf = (parts: string, { lab: [L, a, b], interval: [low, high], faces, ...rest }: Spread) => ({
  parts,
  lab: [L, a, b] as [number, number, number],
  deltaE: rest.deltaE,
  interval: [low, high] as [number, number],
  degreesOfFreedom: rest.degreesOfFreedom,
  limit: rest.limit,
  photos: rest.photos,
  faces: [...faces],
});

const wayOf = (way: RepeatWay["way"], spread: WaySpread | null): RepeatWay[] =>
  spread
    ? [
        {
          way,
          spreads: [
            rowOf("all", spread.all),
            ...(spread.kinds.length > 1 ? spread.kinds.map((kind) => rowOf(kind.kind, kind)) : []),
          ],
          limit: spread.enough ? spread.all.limit : null,
        },
      ]
    : [];

const gaugeOf = (by: RepeatGauge["by"], study: ColourGauge | null): RepeatGauge[] => {
  if (!study) return [];
  const { appraisers, faces, times, axes, colour } = study;
  const row = (axis: RepeatGauge["rows"][number]["axis"], figures: GaugeFigures) => ({ axis, ...figures });
  const rows = [row("L", axes[0]), row("a", axes[1]), row("b", axes[2]), row("colour", colour)];
  return [{ by, appraisers: [...appraisers], faces: [...faces], times, rows, limit: limitFactor * colour.gauge }];
};

const named = (names: readonly string[]): string =>
  names.length < 2 ? names.join() : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

const shootRepeats = ({ ways }: Pick<RepeatReport, "ways">): string[] => {
  const single = ways.find(({ way }) => way === "by-reference");
  if (single && single.limit !== null) return [];
  const so = single?.spreads[0]?.degreesOfFreedom ?? 0;
  const soFar =
    so === 0 ? "" : ` There ${so === 1 ? "is 1 repeat" : `are ${so} repeats`} so far, ${leastFreedom} are the least.`;
  return [
    `Photograph one face of three leaves, each three times with the card or chart on it. Lay phone and card down and set both up anew each time, as for another leaf.${soFar}`,
  ];
};

const shootAppraisers = (
  names: readonly string[],
  study: readonly RepeatGauge[],
  what: { readonly one: string; readonly several: string },
): string[] => {
  if (study.length > 0) return [];
  return names.length < 2 ? [what.one] : [what.several];
};

const toShoot = (report: Omit<RepeatReport, "toShoot">): string[] => {
  const { phones, people, gauges } = report;
  return [
    ...shootRepeats(report),
    ...shootAppraisers(
      phones,
      gauges.filter(({ by }) => by === "phone"),
      {
        one: "If more than one phone is used on this job: photograph the same leaves three times with each of them, with the same card or chart.",
        several: `What the phones differ by is not known: photograph the same face of two leaves or more, each at least twice, with ${named(phones)}, and the same card or chart in every photo.`,
      },
    ),
    ...shootAppraisers(
      people,
      gauges.filter(({ by }) => by === "person"),
      {
        one: "If more than one person takes the photos: let each of them photograph the same leaves three times.",
        several: `What it matters who takes the photo is not known: ${named(people)} each photograph the same face of two leaves or more, at least twice.`,
      },
    ),
  ];
};

/**
 * What repeat photos come to. `taken` tells of each photo of the delivery or folder by whom and with what it was taken.
 */
export const repeatReportOf = (readings: readonly RepeatReading[], taken: ReadonlyMap<string, Taken>): RepeatReport => {
  const { byReference, sideBySide } = repeatabilityOf(readings);
  const names = (of: keyof Taken) => [...new Set([...taken.values()].flatMap((one) => one[of] ?? []))].sort();
  const study = (of: keyof Taken) => studyColour(readings, (photo) => taken.get(photo)?.[of] ?? null);
  const known = {
    ways: [...wayOf("by-reference", byReference), ...wayOf("side-by-side", sideBySide)],
    gauges: [...gaugeOf("phone", study("phone")), ...gaugeOf("person", study("person"))],
    phones: names("phone"),
    people: names("person"),
  };
  return { ...known, toShoot: toShoot(known) };
};
