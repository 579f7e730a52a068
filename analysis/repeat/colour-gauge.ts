import type { Vector3 } from "../algebra/matrix3.ts";
import { deltaE00 } from "../colour/delta-e00.ts";
import { type Lab65, lab65ToXyz, xyzToLab65 } from "../colour/lab.ts";
import { type GaugeFigures, type GaugeStudy, gaugeFigures, studyGauge } from "./gauge.ts";
import type { RepeatReading } from "./repeat-readings.ts";

/** A gauge study of colour: faces are the parts, phones or people the appraisers. */
export interface ColourGauge {
  readonly appraisers: readonly string[];
  /** "leaf/face". */
  readonly faces: readonly string[];
  readonly times: number;
  /** In L, a and b, each with its own study. */
  readonly axes: readonly [GaugeFigures, GaugeFigures, GaugeFigures];
  /** The three together, as CIEDE2000. */
  readonly colour: GaugeFigures;
}

interface FaceReading {
  readonly photo: string;
  readonly face: string;
  readonly tie: string;
  readonly lab: Lab65;
}

/** The colour of whole faces, photo by photo: the mean of light over the parts that all photos of the face show. */
const faceReadings = (readings: readonly RepeatReading[]): FaceReading[] => {
  const byPhoto = new Map<string, RepeatReading[]>();
  const photosOf = new Map<string, Set<string>>();
  const timesSeen = new Map<string, number>();
  for (const one of readings) {
    const face = `${one.leaf}/${one.face}`;
    const key = JSON.stringify([one.photo, face]);
    byPhoto.set(key, [...(byPhoto.get(key) ?? []), one]);
    photosOf.set(face, (photosOf.get(face) ?? new Set()).add(one.photo));
    timesSeen.set(`${face} ${one.part}`, (timesSeen.get(`${face} ${one.part}`) ?? 0) + 1);
  }
  return [...byPhoto.values()].flatMap((parts) => {
    const { leaf, face: side, photo, tie } = parts[0]!;
    const face = `${leaf}/${side}`;
    const common = parts.filter(({ part }) => timesSeen.get(`${face} ${part}`) === photosOf.get(face)?.size);
    return common.length === 0 ? [] : [{ photo, face, tie, lab: meanColour(common) }];
  });
};

const meanColour = (parts: readonly RepeatReading[]): Lab65 => {
  const sum = [0, 0, 0];
  let total = 0;
  for (const { lab, cells } of parts) {
    total += cells;
    lab65ToXyz(lab).forEach((value, k) => {
      sum[k]! += cells * value;
    });
  }
  return xyzToLab65([sum[0]! / total, sum[1]! / total, sum[2]! / total]);
};

/** Colours of every face by every appraiser: [face][appraiser], all with as many photos. */
interface Layout {
  readonly appraisers: readonly string[];
  readonly faces: readonly string[];
  readonly colours: readonly (readonly (readonly Lab65[])[])[];
}

/**
 * The largest balanced layout: the appraisers with most faces to their name, as many of them as have two faces or more in
 * common, each taken twice or more.
 */
const balance = (readings: readonly FaceReading[], appraiserOf: (photo: string) => string | null): Layout | null => {
  const cells = new Map<string, Map<string, Lab65[]>>();
  for (const { photo, face, lab } of readings.toSorted((one, other) => (one.photo < other.photo ? -1 : 1))) {
    const appraiser = appraiserOf(photo);
    if (appraiser === null) continue;
    const own = cells.get(appraiser) ?? new Map<string, Lab65[]>();
    cells.set(appraiser, own.set(face, [...(own.get(face) ?? []), lab]));
  }
  const repeated = [...cells]
    .map(([appraiser, own]) => ({
      appraiser,
      faces: [...own].flatMap(([face, { length }]) => (length > 1 ? [face] : [])),
    }))
    .sort((one, other) => other.faces.length - one.faces.length || (one.appraiser < other.appraiser ? -1 : 1));
  for (let count = repeated.length; count >= 2; count--) {
    const appraisers = repeated.slice(0, count);
    const faces = appraisers[0]!.faces.filter((face) => appraisers.every((one) => one.faces.includes(face))).sort();
    if (faces.length < 2) continue;
    const names = appraisers.map(({ appraiser }) => appraiser).sort();
    const colours = faces.map((face) => names.map((name) => cells.get(name)!.get(face)!));
    const times = Math.min(...colours.flat().map(({ length }) => length));
    return { appraisers: names, faces, colours: colours.map((row) => row.map((cell) => cell.slice(0, times))) };
  }
  return null;
};

/** CIEDE2000 that one unit of L, of a, of b makes at a colour. */
const perUnit = (lab: Lab65): Vector3 => [
  deltaE00(lab, [lab[0] + 1, lab[1], lab[2]]),
  deltaE00(lab, [lab[0], lab[1] + 1, lab[2]]),
  deltaE00(lab, [lab[0], lab[1], lab[2] + 1]),
];

/** Variances of three axes as one of CIEDE2000, to first order, its term of rotation left out: it is small for wood. */
const together = (studies: readonly [GaugeStudy, GaugeStudy, GaugeStudy], about: Lab65): GaugeFigures => {
  const unit = perUnit(about);
  const sum = (of: "repeat" | "reproduce" | "part") =>
    studies.reduce((total, { variances }, axis) => total + unit[axis]! ** 2 * variances[of], 0);
  return gaugeFigures({ repeat: sum("repeat"), reproduce: sum("reproduce"), part: sum("part") });
};

/**
 * Gauge study of readings by whatever tells appraisers apart (null: not known, left out). Only faces that every
 * appraiser took twice or more count, and only readings that stand on the same reference. Null where there are too few.
 */
export const studyColour = (
  readings: readonly RepeatReading[],
  appraiserOf: (photo: string) => string | null,
): ColourGauge | null => {
  const faces = faceReadings(readings.filter(({ apart, referenced }) => apart && referenced));
  const layouts = [...new Set(faces.map(({ tie }) => tie))]
    .flatMap(
      (tie) =>
        balance(
          faces.filter((one) => one.tie === tie),
          appraiserOf,
        ) ?? [],
    )
    .sort((one, other) => other.colours.flat(2).length - one.colours.flat(2).length);
  const [largest] = layouts;
  if (!largest) return null;
  const axis = (k: 0 | 1 | 2) => studyGauge(largest.colours.map((row) => row.map((cell) => cell.map((lab) => lab[k]))));
  const [L, a, b] = [axis(0), axis(1), axis(2)];
  if (!L || !a || !b) return null;
  const all = largest.colours.flat(2);
  const mean = (k: 0 | 1 | 2) => all.reduce((sum, lab) => sum + lab[k], 0) / all.length;
  return {
    appraisers: largest.appraisers,
    faces: largest.faces,
    times: largest.colours[0]![0]!.length,
    axes: [gaugeFigures(L.variances), gaugeFigures(a.variances), gaugeFigures(b.variances)],
    colour: together([L, a, b], [mean(0), mean(1), mean(2)]),
  };
};
