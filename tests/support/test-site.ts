import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ulid } from "ulid";
import { allot } from "../../analysis/allot/allot.ts";
import { answerQuestion } from "../../analysis/allot/allotment-questions.ts";
import type { CutDifference } from "../../analysis/grain/cut.ts";
import type { FaceDifference, LeafView } from "../../server/contract/views.ts";
import { printed } from "../../server/records/printing.ts";
import type { Darkroom, Examined, FaceRef, Measured, Measuring, Planning, Site, Store } from "../../server/site.ts";
import { openStore } from "../../server/store/store.ts";
import { readFileText } from "../../server/use-cases/read-files.ts";
import { dealByHand } from "../../server/workers/deal-by-hand.ts";

/** What the fake measuring knows: a lightness of each face, "W01/A"; faces it does not name were never photographed. */
export type Lightness = Readonly<Record<string, number>>;

const partOf = (lightness: number) => ({
  part: "face",
  kind: "face",
  lab: [lightness, 8, 18] as [number, number, number],
  u95: 0.4,
  swatch: "#806040",
});

const fakeMeasured = (
  store: Store,
  delivery: string,
  lightness: Lightness,
  cuts: readonly CutDifference[],
): Measured => {
  const of = ({ leaf, face }: FaceRef): number | undefined => lightness[`${leaf}/${face}`];
  const difference = (a: FaceRef, b: FaceRef): FaceDifference => {
    const [one, other] = [of(a), of(b)];
    if (one === undefined || other === undefined)
      return { a, b, part: null, deltaE: null, u95: null, verdict: "cannot-tell", advice: "Photograph it." };
    const deltaE = Math.abs(one - other);
    return { a, b, part: "face", deltaE, u95: 0.4, verdict: deltaE <= 2 ? "match" : "differs", advice: null };
  };
  return {
    solvedAt: null,
    state: (id) =>
      store
        .open(delivery)
        .read()
        .photos.some((photo) => photo.id === id)
        ? { kind: "measured", faces: [], references: [], open: [] }
        : { kind: "waiting" },
    faces: (leaf): LeafView["faces"] =>
      (["A", "B"] as const).flatMap((face) => {
        const value = of({ leaf, face });
        return value === undefined ? [] : [{ face, parts: [partOf(value)], grain: [], photos: [] }];
      }),
    proposedMarks: () => [],
    difference,
    cuts: () => cuts,
    markContrast: async (face) => (of(face) === undefined ? null : 3),
    corners: () => null,
    untied: [],
    repeats: [],
    chart: null,
  };
};

const nothingWaits = { waiting: 0, measured: 0, retake: 0, kept: 0, failed: 0, solvedAt: null };

const fakeMeasuring = (store: Store, lightness: Lightness, cuts: readonly CutDifference[]): Measuring => ({
  measured: (delivery) => fakeMeasured(store, delivery, lightness, cuts),
  progress: () => nothingWaits,
  wake: () => undefined,
  settled: async () => undefined,
  onProgress: () => () => undefined,
});

/** Plans at once, in this process. */
const fakePlanning: Planning = {
  make: async (_, problem) => ({ plan: allot(problem), ...dealByHand(problem) }),
  stop: () => false,
  progress: () => null,
  onProgress: () => () => undefined,
};

const aPhoto: Examined = { kind: "photo", width: 3000, height: 4000, takenAt: null, camera: "Brannoch P1", flags: [] };

const fakeDarkroom = (examine: (path: string) => Promise<Examined>): Darkroom => ({
  examine,
  preview: async () => Buffer.from("preview"),
  crop: async () => Buffer.from("crop"),
  supplierCopy: async (_, to) => {
    await writeFile(to, "copy");
    return { bytes: 4, removed: ["position"] };
  },
  close: async () => undefined,
});

/** A site on a temporary folder, with a clock that the test sets and fakes for what decodes and measures. */
export interface TestSite extends Site {
  readonly folder: string;
  setNow(at: string): void;
  remove(): Promise<void>;
}

export const testSite = async (
  options: {
    readonly lightness?: Lightness;
    /** How the cuts of any two faces differ. */
    readonly cuts?: readonly CutDifference[];
    readonly planning?: Planning;
    examine?(path: string): Promise<Examined>;
  } = {},
): Promise<TestSite> => {
  const folder = await mkdtemp(join(tmpdir(), "leafledger-test-"));
  let at = "2026-03-03T12:00:00+00:00";
  const now = (): string => at;
  const store = await openStore(folder, now);
  return {
    folder,
    store,
    darkroom: fakeDarkroom(async (path) => (await options.examine?.(path)) ?? aPhoto),
    measuring: fakeMeasuring(store, options.lightness ?? {}, options.cuts ?? []),
    planning: options.planning ?? fakePlanning,
    dealByHand: async (problem) => dealByHand(problem),
    askAllotment: async (question) => answerQuestion(question) as never,
    readFile: async (reading) => readFileText(reading),
    print: printed,
    now,
    newId: () => ulid(),
    setNow: (next) => {
      at = next;
    },
    remove: async () => {
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
};
