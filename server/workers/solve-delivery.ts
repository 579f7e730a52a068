import { colourUncertainty95 } from "../../analysis/compare/difference-model.ts";
import { type FaceName, faceComparison } from "../../analysis/compare/face-difference.ts";
import { judge } from "../../analysis/intake/gate-limits.ts";
import type { PhotoSample } from "../../analysis/sample/photo-sample.ts";
import { connect } from "../../analysis/solve/connections.ts";
import { greyOfReflectance, type KnownReferences } from "../../analysis/solve/known-references.ts";
import { leastTies, untiedGroups } from "../../analysis/solve/least-ties.ts";
import { type Adjustment, adjust } from "../../analysis/solve/light-adjustment.ts";
import type { Gate } from "../contract/photo.ts";
import { chartJudge } from "./judge-chart.ts";
import { referenceId } from "./reference-id.ts";
import type { Solved, SolvedDifference, SolvedFace, SolveRequest } from "./solved.ts";

/** What is known of references: the chart by its edition, a grey card by its reflectance. */
export const knownOf = ({ chart, greyReflectance }: SolveRequest): KnownReferences => ({
  [referenceId("chart", null)]: Object.fromEntries(chart.lab.map((lab, i) => [`patch-${i + 1}`, lab])),
  [referenceId("grey", null)]: { grey: greyOfReflectance(greyReflectance) },
});

const nameOf = ({ leaf, face }: FaceName): string => `${leaf}/${face}`;

const facesOf = (adjustment: Adjustment, { samples }: SolveRequest): SolvedFace[] => {
  const faces = new Map<string, SolvedFace & { parts: SolvedFace["parts"][number][] }>();
  for (const part of adjustment.parts) {
    const name = nameOf(part);
    const face = faces.get(name) ?? {
      leaf: part.leaf,
      face: part.face as "A" | "B",
      parts: [],
      photos: samples.filter(({ faces: seen }) => seen.some((one) => nameOf(one) === name)).map(({ photo }) => photo),
    };
    face.parts.push({
      part: part.part,
      kind: part.kind,
      lab: part.lab,
      u95: part.known ? colourUncertainty95(part) : null,
    });
    faces.set(name, face);
  }
  return [...faces.values()];
};

const advice = {
  "too-uncertain": "Photograph the two side by side in one line-up.",
  "no-common-part": "They have no part in common to compare.",
  "nothing-ties-them":
    "Nothing ties their photos together: photograph the two side by side, or each with the same card.",
} as const;

/** A patch of which more than this was clipped says nothing of the light. */
const mostLost = 0.1;

/** One face and nothing beside it that is the same elsewhere: its colour cannot be told from its light. */
const standsAlone = ({ faces, references }: PhotoSample): boolean =>
  faces.length === 1 && !references.some(({ patches }) => patches.some(({ lost }) => lost <= mostLost));

/** Why a photo has no part in the solving, as the gate to tell a person, or null. */
export const gateJudge = (request: SolveRequest): ((sample: PhotoSample) => Gate | null) => {
  const gateOfChart = chartJudge(request);
  return (sample) => (standsAlone(sample) ? judge("no-reference", 0) : gateOfChart(sample));
};

const showsChart = ({ references }: PhotoSample): boolean => references.some(({ kind }) => kind === "chart");

/** What hangs together with nothing else, and the photos that would tie it: those without anything known in them too, none with a wrong chart. */
const untiedOf = (
  judged: readonly { readonly sample: PhotoSample; readonly gate: Gate | null }[],
  known: KnownReferences,
): Pick<Solved, "untied" | "ties"> => {
  const tieable = judged.filter(({ gate }) => gate?.gate !== "wrong-chart").map(({ sample }) => sample);
  const alone = new Set(judged.flatMap(({ sample, gate }) => (gate ? [sample.photo] : [])));
  const groups = untiedGroups(connect(tieable, known));
  return {
    untied: groups
      .slice(1)
      .map(({ photos }) => photos.filter((photo) => !alone.has(photo)))
      .filter((photos) => photos.length > 0),
    ties: leastTies(groups),
  };
};

/** Solves all photos of a delivery and compares every two faces that share a part. */
export const solveDelivery = (asked: SolveRequest): Solved => {
  const gateOf = gateJudge(asked);
  const judged = asked.samples.map((sample) => ({ sample, gate: gateOf(sample) }));
  const sentBack = judged.flatMap(({ sample: { photo }, gate }) => (gate ? [{ photo, gate }] : []));
  const samples = judged.flatMap(({ sample, gate }) => (gate ? [] : [sample]));
  const known = knownOf(asked);
  const untied = untiedOf(judged, known);
  const chart = samples.some(showsChart) ? asked.chart.name : null;
  if (samples.length === 0) return { faces: [], differences: [], ...untied, sentBack, charts: [], chart };
  const request = { ...asked, samples };
  const adjustment = adjust(request.samples, known);
  const compare = faceComparison(adjustment, request.toleranceDE00, request.confidence);
  const faces = facesOf(adjustment, request);
  const differences: SolvedDifference[] = [];
  for (const [i, one] of faces.entries()) {
    for (const other of faces.slice(i + 1)) {
      const { parts, worst, verdict } = compare(one, other);
      if (!worst && verdict.kind === "cannot-tell" && verdict.why === "no-common-part") continue;
      const figure = ({ part, deltaE, u95 }: NonNullable<typeof worst>) => ({ part, deltaE, u95 });
      differences.push({
        a: nameOf(one),
        b: nameOf(other),
        parts: parts.map(figure),
        worst: worst && figure(worst),
        verdict: verdict.kind,
        advice: verdict.kind === "cannot-tell" ? advice[verdict.why] : null,
      });
    }
  }
  return {
    faces,
    differences,
    ...untied,
    sentBack,
    charts: adjustment.charts,
    chart,
  };
};
