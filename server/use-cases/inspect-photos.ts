import { cpus } from "node:os";
import { basename, join } from "node:path";
import { allot } from "../../analysis/allot/allot.ts";
import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import { type CutDifference, cutDifferences } from "../../analysis/grain/cut.ts";
import type { JobFile } from "../contract/job-file.ts";
import { otherLabel } from "../rules/other-label.ts";
import type { Look, MeasuredFace, PhotoMeasurement } from "../workers/measurement.ts";
import { openProcessPool, type ProcessPool } from "../workers/process-pool.ts";
import type { Solved } from "../workers/solved.ts";
import { differenceTable } from "./difference-table.ts";
import { type JobPhoto, layoutOf, measureFolder, solveRequestOf } from "./measure-folder.ts";
import { phonesOf } from "./phones-of-folder.ts";
import { readJobFile } from "./read-job-file.ts";

/** What a folder of photos comes to: colours, differences, outlines, marks, what was refused, and a plan. */
export interface Inspection {
  readonly faces: readonly {
    leaf: string;
    face: string;
    parts: readonly { part: string; lab: readonly number[]; u95: number | null }[];
  }[];
  readonly pairs: readonly { a: string; b: string; part: string; de00: number; u95: number }[];
  readonly outlines: readonly {
    photo: string;
    leaf: string;
    face: string;
    corners_px: readonly (readonly number[])[];
  }[];
  readonly marks: readonly {
    leaf: string;
    face: string;
    x: number;
    y: number;
    w: number;
    h: number;
    kind: string;
    score: number;
  }[];
  /** Figure of the grain of every part of a face in a single photo, with how far it is sure. */
  readonly grain: readonly ({ leaf: string; face: string } & Look["grain"][number])[];
  /** Two faces, "leaf/face", whose cuts differ beside their colour. */
  readonly cuts: readonly ({ a: string; b: string } & CutDifference)[];
  readonly refused: readonly { photo: string; reasons: readonly string[]; advice: readonly string[] }[];
  readonly plan: readonly { opening: string; leaf: string; faceTo: Record<string, string> }[];
  readonly untied: readonly (readonly string[])[];
  /** The least photos that would tie everything together, faces as "leaf/face". */
  readonly ties: Solved["ties"];
  /** The edition by whose values charts were read; null where no photo shows one. */
  readonly chart: string | null;
  readonly charts: Solved["charts"];
}

/** The openings of a job file as an allotment: a leaf fits where its size is asked for; every pair of a space counts alike. */
const allotmentOf = (job: JobFile, solved: Solved): AllotmentProblem => {
  const size = (height: number, width: number) => `${height}x${width}`;
  const faceIds = solved.faces.map(({ leaf, face }) => `${leaf}/${face}`);
  const known = new Set(faceIds);
  const compared = new Map(solved.differences.map(({ a, b, worst }) => [`${a} ${b}`, worst]));
  const nothing = { deltaE: null, u95: null };
  const between = (one: string, other: string) =>
    compared.get(`${one} ${other}`) ?? compared.get(`${other} ${one}`) ?? nothing;
  const lightness = (id: string) =>
    solved.faces.find(({ leaf, face }) => `${leaf}/${face}` === id)?.parts[0]?.lab[0] ?? null;
  const side = (id: string) => ({ id, lightness: lightness(id) });
  return {
    leaves: job.leaves
      .filter(({ id }) => known.has(`${id}/A`) && known.has(`${id}/B`))
      .map((leaf) => ({
        id: leaf.id,
        fits: { spec: size(leaf.height_mm, leaf.width_mm) },
        faces: { A: side(`${leaf.id}/A`), B: side(`${leaf.id}/B`) },
        mayTurn: true,
        state: "free",
      })),
    openings: job.openings.map(({ id, size_mm, spaces }) => ({
      id,
      spec: size(size_mm.height, size_mm.width),
      leaves: 1,
      spaces: [spaces[0] ?? null, spaces[1] ?? null],
    })),
    spaces: job.spaces.map(({ name }) => ({ id: name, weight: 1 })),
    existing: [],
    locks: [],
    bans: [],
    differences: differenceTable(faceIds, (id) => id, between),
    meetingWeight: 1,
    notComparedAs: 20,
    mayStayEmpty: job.openings.map(({ id }) => id),
  };
};

const planOf = (job: JobFile, solved: Solved): Inspection["plan"] => {
  if (job.openings.length === 0) return [];
  const plan = allot(allotmentOf(job, solved));
  if (plan.kind !== "plan") return [];
  return plan.places.map(({ opening, leaf, faceTo }) => ({
    opening,
    leaf,
    faceTo: Object.fromEntries(Object.entries(faceTo).flatMap(([face, space]) => (space ? [[space, face]] : []))),
  }));
};

/** A face in a single photo looked at closely: a line-up shows too few px a mm. */
interface LookedAt {
  readonly leaf: string;
  readonly face: string;
  readonly look: Look;
}

const lookAt = async (
  pool: ProcessPool,
  folder: string,
  job: JobFile,
  photo: JobPhoto,
  faces: readonly MeasuredFace[],
): Promise<LookedAt[]> => {
  const looks: LookedAt[] = [];
  for (const { leaf: id, face, corners, covers } of photo.shows.length === 1 ? faces : []) {
    const leaf = job.leaves.find((one) => one.id === id);
    if (!leaf) continue;
    const path = join(folder, photo.file);
    const look = (await pool.run({ kind: "look", path, corners, layout: layoutOf(leaf), covers })) as Look;
    looks.push({ leaf: id, face, look });
  }
  return looks;
};

/** Every two faces whose cuts differ; a face in several photos as its first shows it. */
const cutsOf = (looks: readonly LookedAt[]): Inspection["cuts"] => {
  const nameOf = ({ leaf, face }: LookedAt) => `${leaf}/${face}`;
  const faces = [...new Map(looks.toReversed().map((one) => [nameOf(one), one])).values()].toReversed();
  return faces.flatMap((one, i) =>
    faces
      .slice(i + 1)
      .flatMap((other) =>
        cutDifferences(one.look.grain, other.look.grain).map((cut) => ({ a: nameOf(one), b: nameOf(other), ...cut })),
      ),
  );
};

const refusedOf = (
  photo: JobPhoto,
  measurement: PhotoMeasurement,
  { sentBack }: Solved,
  leaves: readonly { readonly code: string }[],
): Inspection["refused"] => {
  const name = basename(photo.file);
  if (measurement.kind === "kept") return [{ photo: name, reasons: ["unreadable"], advice: [measurement.why] }];
  const own =
    measurement.kind === "retake" ? [...measurement.gates, ...otherLabel(photo.shows, measurement.labels, leaves)] : [];
  const gates = [...own, ...sentBack.filter((one) => one.photo === photo.file).map(({ gate }) => gate)];
  const failed = gates.filter(({ passed }) => !passed);
  const reasons = failed.map(({ gate }) => gate);
  return failed.length === 0 ? [] : [{ photo: name, reasons, advice: failed.map(({ advice }) => advice) }];
};

/**
 * Measures a folder of photos with what its job.json says, without a person's help, and solves them together.
 * `onProgress` hears how many photos are done.
 */
export const inspectPhotos = async (
  folder: string,
  onProgress: (done: number, of: number) => void = () => undefined,
): Promise<Inspection> => {
  const job = await readJobFile(folder);
  const pool = openProcessPool(Math.min(2, cpus().length));
  try {
    const measured = await measureFolder(pool, folder, job, onProgress, await phonesOf(pool, folder, job));
    const good = measured.flatMap(({ photo, measurement }) =>
      measurement.kind === "measured" ? [{ photo, ...measurement }] : [],
    );
    const solved = (await pool.run({
      kind: "solve",
      request: solveRequestOf(job, measured),
    })) as Solved;
    const leaves = job.leaves.map(({ id }) => ({ code: id }));
    const looks = (await Promise.all(good.map(({ photo, faces }) => lookAt(pool, folder, job, photo, faces)))).flat();
    return {
      faces: solved.faces.map(({ leaf, face, parts }) => ({
        leaf,
        face,
        parts: parts.map(({ part, lab, u95 }) => ({ part, lab, u95 })),
      })),
      pairs: solved.differences.flatMap(({ a, b, parts }) =>
        parts.map(({ part, deltaE, u95 }) => ({ a, b, part, de00: deltaE, u95 })),
      ),
      outlines: good.flatMap(({ photo, faces }) =>
        faces.map(({ leaf, face, corners }) => ({ photo: photo.file, leaf, face, corners_px: corners })),
      ),
      marks: looks.flatMap(({ leaf, face, look }) =>
        look.proposed.map(({ box, kind, score }) => ({ leaf, face, ...box, kind, score })),
      ),
      grain: looks.flatMap(({ leaf, face, look }) => look.grain.map((part) => ({ leaf, face, ...part }))),
      cuts: cutsOf(looks),
      refused: measured.flatMap(({ photo, measurement }) => refusedOf(photo, measurement, solved, leaves)),
      plan: planOf(job, solved),
      untied: solved.untied,
      ties: solved.ties,
      chart: solved.chart,
      charts: solved.charts,
    };
  } finally {
    await pool.close();
  }
};
