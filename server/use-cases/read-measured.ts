import { cutDifferences } from "../../analysis/grain/cut.ts";
import type { Label } from "../../analysis/locate/label-code.ts";
import type { Quad } from "../../analysis/pixels.ts";
import type { RepeatReading } from "../../analysis/repeat/repeat-readings.ts";
import type { Leaf } from "../contract/leaf.ts";
import type { Gate, Photo, PhotoState } from "../contract/photo.ts";
import type { FaceDifference, LeafView } from "../contract/views.ts";
import { otherLabel } from "../rules/other-label.ts";
import { swatch } from "../rules/swatch.ts";
import type { CropRequest, FaceRef, Measured } from "../site.ts";
import type { Look, MeasuredFace, PhotoMeasurement } from "../workers/measurement.ts";
import type { Solved, SolvedDifference } from "../workers/solved.ts";
import { holdDifferences } from "./hold-differences.ts";
import { tieSentence } from "./tie-sentence.ts";

/** What became of one photo: measured, to be retaken, kept as evidence, or not to be opened. */
export type Outcome = PhotoMeasurement | { readonly kind: "failed"; readonly why: string };

/** What a delivery's photos came to so far. */
export interface MeasuredFacts {
  readonly photos: readonly Photo[];
  readonly leaves: readonly Leaf[];
  readonly outcome: (photo: string) => Outcome | undefined;
  readonly solved: Solved | null;
  readonly solvedAt: string | null;
  readonly repeats: readonly RepeatReading[];
  /** Largest ΔE00 agreed. */
  readonly toleranceDE00: number;
  readonly look: (photo: string, face: FaceRef) => Look | undefined;
  readonly contrast: (photo: string, face: FaceRef, corners: Quad, box: CropRequest["box"]) => Promise<number | null>;
}

const point = ([x, y]: Quad[0]): [number, number] => [x, y];

const stateOf = (
  outcome: Outcome | undefined,
  byLabel: (labels: readonly Label[]) => readonly Gate[],
  sentBack: Gate | undefined,
  chart: string | null,
): PhotoState => {
  if (!outcome) return { kind: "waiting" };
  if (outcome.kind === "kept" || outcome.kind === "failed") return outcome;
  const gates = [...outcome.gates, ...byLabel(outcome.labels)];
  if (outcome.kind === "retake") return { kind: "retake", gates };
  if (sentBack) return { kind: "retake", gates: [...gates, sentBack] };
  return {
    kind: "measured",
    faces: outcome.faces.map(({ leaf, face, corners: [a, b, c, d], score, byHand }) => ({
      leaf,
      face,
      corners: [point(a), point(b), point(c), point(d)],
      score,
      byHand,
    })),
    references: outcome.references.map(({ kind, id }) =>
      kind === "chart" && chart ? chart : id ? `${kind} ${id}` : kind,
    ),
    open: gates.filter(({ passed }) => !passed),
  };
};

const faceName = ({ leaf, face }: FaceRef): string => `${leaf}/${face}`;

const heightPx = ({ corners: [topLeft, , , bottomLeft] }: MeasuredFace): number =>
  Math.hypot(bottomLeft[0] - topLeft[0], bottomLeft[1] - topLeft[1]);

const compared = (a: FaceRef, b: FaceRef, pair: SolvedDifference | undefined): FaceDifference => ({
  a: { ...a },
  b: { ...b },
  part: pair?.worst?.part ?? null,
  deltaE: pair?.worst?.deltaE ?? null,
  u95: pair?.worst?.u95 ?? null,
  verdict: pair?.verdict ?? "cannot-tell",
  advice: pair ? pair.advice : "One of the two faces has not been measured: photograph it.",
});

/** "a.jpg, b.jpg and 4 more" */
const named = (names: readonly string[]): string =>
  names.length <= 2 ? names.join(" and ") : `${names.slice(0, 2).join(", ")} and ${names.length - 2} more`;

const untiedSentence = (photos: readonly Photo[], group: readonly string[]): string => {
  const names = named(photos.filter(({ id }) => group.includes(id)).map(({ name }) => name));
  return group.length === 1
    ? `${names}: what it shows compares with no leaf in another photo.`
    : `${names}: leaves in them compare with each other, but with no leaf in another photo.`;
};

/** Of what was solved last: 400 faces are 80,000 pairs, and every page asks. */
const listed = new WeakMap<Solved, ReadonlyMap<string, SolvedDifference>>();

const pairsOf = (solved: Solved): ReadonlyMap<string, SolvedDifference> => {
  const pairs = listed.get(solved) ?? new Map(solved.differences.map((pair) => [`${pair.a} ${pair.b}`, pair]));
  listed.set(solved, pairs);
  return pairs;
};

/** The view of what was measured that the use cases read. */
export const readMeasured = (facts: MeasuredFacts): Measured => {
  const { photos, leaves, outcome, solved, solvedAt, repeats, toleranceDE00, look, contrast } = facts;
  const pairs = solved ? pairsOf(solved) : new Map<string, SolvedDifference>();
  const sentBack = new Map(solved?.sentBack.map(({ photo, gate }) => [photo, gate]));

  /** Photos in which a face was measured, the one that shows it largest first. */
  const showing = (face: FaceRef) =>
    photos
      .flatMap(({ id }) => {
        const one = outcome(id);
        const found = one?.kind === "measured" && one.faces.find((seen) => faceName(seen) === faceName(face));
        return found ? [{ photo: id, found }] : [];
      })
      .toSorted((one, other) => heightPx(other.found) - heightPx(one.found));

  /** The face looked at closely, in the photo that shows it largest. */
  const closest = (face: FaceRef) => {
    const [best] = showing(face);
    const seen = best && look(best.photo, face);
    return seen && { ...seen, photo: best.photo };
  };

  const faces = (leaf: string): LeafView["faces"] =>
    (solved?.faces ?? [])
      .filter((one) => one.leaf === leaf)
      .map(({ face, parts, photos: seenIn }) => ({
        face,
        parts: parts.map((part) => ({ ...part, lab: [...part.lab], swatch: swatch(part.lab) })),
        grain: [...(closest({ leaf, face })?.grain ?? [])],
        photos: [...seenIn],
      }));

  const held = holdDifferences(repeats, toleranceDE00, (face) =>
    showing(face).flatMap(({ photo }) => {
      const one = outcome(photo);
      if (one?.kind !== "measured") return [];
      return [{ photo, camera: one.sample.camera, referenced: one.sample.references.length > 0 }];
    }),
  );

  const proposedMarks = (leaf: string): LeafView["proposed"] =>
    (["A", "B"] as const).flatMap((face) => {
      const seen = closest({ leaf, face });
      return seen ? seen.proposed.map((one) => ({ ...one, face, photo: seen.photo })) : [];
    });

  return {
    solvedAt,
    untied: [
      ...(solved?.untied ?? []).map((group) => untiedSentence(photos, group)),
      ...(solved?.ties ?? []).map(tieSentence),
    ],
    state: (id) => {
      const byLabel = (labels: readonly Label[]) =>
        labels.length === 0 ? [] : otherLabel(photos.find((one) => one.id === id)?.shows ?? [], labels, leaves);
      return stateOf(outcome(id), byLabel, sentBack.get(id), solved?.chart ?? null);
    },
    chart: solved?.chart ?? null,
    faces,
    proposedMarks,
    repeats,
    difference: (a, b) => {
      const pair = pairs.get(`${faceName(a)} ${faceName(b)}`) ?? pairs.get(`${faceName(b)} ${faceName(a)}`);
      return held(compared(a, b, pair));
    },
    cuts: (a, b) => cutDifferences(closest(a)?.grain ?? [], closest(b)?.grain ?? []),
    markContrast: async (face, box) => {
      const [best] = showing(face);
      return best ? contrast(best.photo, face, best.found.corners, box) : null;
    },
    corners: (photo, face) => showing(face).find((one) => one.photo === photo)?.found.corners ?? null,
  };
};
