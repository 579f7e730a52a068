import { beforeEach, describe, expect, onTestFinished, test, vi } from "vitest";
import type { RepeatReading } from "../../../analysis/repeat/repeat-readings.ts";
import type { Delivery } from "../../../server/contract/delivery.ts";
import type { Photo } from "../../../server/contract/photo.ts";
import type { Progress } from "../../../server/contract/views.ts";
import { limits } from "../../../server/limits.ts";
import { Refusal } from "../../../server/problem.ts";
import type { DeliveryStore, Measuring, Store } from "../../../server/site.ts";
import { openMeasuring } from "../../../server/use-cases/measure-photos.ts";
import type { Job } from "../../../server/workers/jobs.ts";
import type { Look, MeasureRequest, PhotoMeasurement } from "../../../server/workers/measurement.ts";
import type { ProcessPool } from "../../../server/workers/process-pool.ts";
import type { Solved, SolveRequest } from "../../../server/workers/solved.ts";
import { aDelivery, aGrain, aLeaf, aPattern, aPhoto } from "../../support/leaves.ts";

const id = "some";

/** A store of one delivery in memory; what was measured outlives the measuring, as a disk does. */
const memoryStore = (begun: Delivery) => {
  const kept = new Map<string, string>();
  let delivery = begun;
  let seq = 0;
  const one = {
    id,
    read: () => delivery,
    head: () => ({ seq, sha256: "" }),
    photos: { path: (sha256: string) => `/photos/${sha256.slice(0, 1)}.jpg` },
    measurements: {
      read: async (sha256: string) => JSON.parse(kept.get(sha256) ?? "null") as unknown,
      write: async (sha256: string, measurement: unknown) => {
        kept.set(sha256, JSON.stringify(measurement));
      },
    },
  } as unknown as DeliveryStore;
  return {
    store: { list: () => [id], open: () => one } as unknown as Store,
    kept,
    change: (recipe: (now: Delivery) => Delivery) => {
      delivery = recipe(delivery);
      seq += 1;
    },
  };
};

const measurementOf = ({ photo, camera, shows }: MeasureRequest): PhotoMeasurement => ({
  kind: "measured",
  sample: {
    photo,
    camera,
    encoding: "srgb",
    faces: shows.map(({ leaf, face }) => ({ leaf, face, parts: [] })),
    references: [{ kind: "card", id: "7K3QD", patches: [] }],
  },
  faces: shows.map(({ leaf, face, corners }) => ({
    leaf,
    face,
    corners: corners ?? [
      [10, 10],
      [90, 10],
      [90, 290],
      [10, 290],
    ],
    score: 0.9,
    byHand: corners !== null,
    covers: [],
  })),
  references: [],
  gates: [],
  labels: [],
});

const solvedOf = ({ samples }: SolveRequest): Solved => ({
  faces: [],
  differences: [],
  untied: [],
  ties: [],
  charts: [],
  chart: null,
  sentBack: samples
    .filter(({ photo }) => photo.startsWith("c"))
    .map(({ photo }) => ({
      photo,
      gate: { gate: "no-reference", value: 0, limit: 1, passed: false, advice: "Card." },
    })),
});

const look: Look = {
  grain: [aGrain],
  proposed: [],
};

const toldApart = {
  part: "face",
  kind: "face",
  lab: [60, 9, 24],
  cells: 20,
  apart: true,
  turn: 0,
  tie: "known",
} as const;

const repeatsOf = ({ samples }: SolveRequest): RepeatReading[] =>
  samples.flatMap(({ photo, camera, faces }) =>
    faces.map(({ leaf, face }) => ({ photo, camera, leaf, face, referenced: true, ...toldApart })),
  );

/** A pool that answers at once, unless a job is held back or made to fail; it remembers what it was asked. */
const fakePool = () => {
  const jobs: Job[] = [];
  const faults = new Map<string, string>();
  const resting = new Set<Job["kind"]>();
  let gate: Promise<void> | null = null;
  const answer = (job: Job): unknown => {
    if (job.kind === "measure") return measurementOf(job.request);
    if (job.kind === "solve") return solvedOf(job.request);
    if (job.kind === "look") return look;
    if (job.kind === "repeats") return repeatsOf(job.request);
    return job.kind === "contrast" ? 3.5 : null;
  };
  const pool: ProcessPool = {
    run: async (job) => {
      jobs.push(job);
      await gate;
      if (resting.has(job.kind)) throw new Refusal("Photos cannot be opened at present.", 503);
      const fault = faults.get(job.kind === "measure" ? job.request.photo : job.kind);
      if (fault) throw new Error(fault);
      return structuredClone(answer(job));
    },
    close: async () => undefined,
  };
  return {
    pool,
    faults,
    /** Kinds of jobs that it cannot do at present. */
    resting,
    /** Holds every answer back until the function given back is called. */
    hold: () => {
      let open: () => void = () => undefined;
      gate = new Promise((resolve) => {
        open = resolve;
      });
      return () => {
        gate = null;
        open();
      };
    },
    measured: () => jobs.flatMap((job) => (job.kind === "measure" ? [job.request.photo.slice(0, 1)] : [])),
    count: (kind: Job["kind"]) => jobs.filter((job) => job.kind === kind).length,
    jobs,
  };
};

const photo = (letter: string, leaf: string, face: "A" | "B"): Photo => ({
  ...aPhoto("single", [leaf, face]),
  id: letter.repeat(64),
  name: `${letter}.jpg`,
});

const begun = aDelivery({
  id,
  patterns: [aPattern({ id: "FL-2040X826" })],
  leaves: [aLeaf({ code: "W01" }), aLeaf({ code: "W02" })],
  photos: [photo("a", "W01", "A"), photo("b", "W01", "B")],
});

const now = () => "2026-03-03T12:00:00+00:00";

let memory: ReturnType<typeof memoryStore>;
let pool: ReturnType<typeof fakePool>;
let measuring: Measuring;
beforeEach(() => {
  memory = memoryStore(begun);
  pool = fakePool();
  measuring = openMeasuring(memory.store, pool.pool, now);
});

/** The same data folder, another start of the server. */
const restart = () => {
  pool = fakePool();
  measuring = openMeasuring(memory.store, pool.pool, now);
};

const stateOf = (letter: string) => measuring.measured(id).state(letter.repeat(64));

const none: Progress = { waiting: 0, measured: 0, retake: 0, kept: 0, failed: 0, solvedAt: null };

describe("the photos of a delivery", () => {
  test("wait until someone asks, then are measured once and solved together", async () => {
    expect(measuring.progress(id)).toEqual({ ...none, waiting: 2 });
    expect(stateOf("a")).toEqual({ kind: "waiting" });
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a", "b"]);
    expect(measuring.progress(id)).toEqual({ ...none, measured: 2, solvedAt: now() });
    expect(stateOf("a")).toMatchObject({ kind: "measured", faces: [{ leaf: "W01", face: "A" }] });
    const solves = pool.jobs.flatMap((job) => (job.kind === "solve" ? [job.request] : []));
    expect(solves.map(({ samples }) => samples.map((one) => one.photo.slice(0, 1)))).toEqual([["a", "b"]]);
    expect(solves[0]).toMatchObject({ toleranceDE00: 2, confidence: 0.95 });
  });

  test("are neither measured nor solved again when nothing changed", async () => {
    await measuring.settled(id);
    await measuring.settled(id);
    measuring.wake(id);
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a", "b"]);
    expect(pool.count("solve")).toBe(1);
  });

  test("are solved again, not measured again, when the agreed tolerance changes", async () => {
    await measuring.settled(id);
    memory.change((delivery) => ({ ...delivery, terms: { ...delivery.terms, toleranceDE00: 3 } }));
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a", "b"]);
    expect(pool.count("solve")).toBe(2);
  });

  test("that show no whole face are kept and never given to the pool", async () => {
    memory.change((delivery) => ({ ...delivery, photos: [{ ...photo("a", "W01", "A"), kind: "detail" }] }));
    await measuring.settled(id);
    expect(pool.jobs).toEqual([]);
    expect(stateOf("a")).toMatchObject({ kind: "kept", why: expect.stringMatching(/evidence/) });
    expect(measuring.progress(id)).toEqual({ ...none, kept: 1, solvedAt: now() });
  });
});

describe("a measurement kept on disk", () => {
  test("is not asked for again after a restart", async () => {
    await measuring.settled(id);
    const before = stateOf("a");
    restart();
    expect(stateOf("a")).toEqual({ kind: "waiting" });
    await measuring.settled(id);
    expect(pool.measured()).toEqual([]);
    expect(pool.count("solve")).toBe(1);
    expect(stateOf("a")).toEqual(before);
  });

  test("does not hold for a photo filed otherwise since", async () => {
    await measuring.settled(id);
    memory.change((delivery) => ({ ...delivery, photos: [photo("a", "W02", "A"), photo("b", "W01", "B")] }));
    restart();
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a"]);
    expect(stateOf("a")).toMatchObject({ faces: [{ leaf: "W02", face: "A" }] });
  });

  test("is made again when it is lost", async () => {
    await measuring.settled(id);
    memory.kept.delete("b".repeat(64));
    restart();
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["b"]);
  });
});

describe("a photo filed otherwise while the server runs", () => {
  test("waits at once and is measured again", async () => {
    await measuring.settled(id);
    memory.change((delivery) => ({ ...delivery, photos: [photo("a", "W02", "A"), photo("b", "W01", "B")] }));
    expect(stateOf("a")).toEqual({ kind: "waiting" });
    expect(measuring.progress(id)).toMatchObject({ waiting: 1, measured: 1 });
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a", "b", "a"]);
    expect(pool.count("solve")).toBe(2);
  });

  test("while it is being measured gets the answer to the last question", async () => {
    const go = pool.hold();
    const settled = measuring.settled(id);
    await expect.poll(() => pool.measured()).toEqual(["a", "b"]);
    memory.change((delivery) => ({ ...delivery, photos: [photo("a", "W02", "B"), photo("b", "W01", "B")] }));
    go();
    await settled;
    expect(pool.measured()).toEqual(["a", "b", "a"]);
    expect(stateOf("a")).toMatchObject({ kind: "measured", faces: [{ leaf: "W02", face: "B" }] });
  });
});

describe("a job that fails", () => {
  const fault = "the photo could not be analysed: its process ended twice";

  test("is told as failed, and the others are measured and solved", async () => {
    pool.faults.set("a".repeat(64), fault);
    await measuring.settled(id);
    expect(stateOf("a")).toEqual({ kind: "failed", why: fault });
    expect(stateOf("b")).toMatchObject({ kind: "measured" });
    expect(measuring.progress(id)).toEqual({ ...none, measured: 1, failed: 1, solvedAt: now() });
  });

  test("is not tried on and on, but once more after a restart", async () => {
    pool.faults.set("a".repeat(64), fault);
    await measuring.settled(id);
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a", "b"]);
    restart();
    await measuring.settled(id);
    expect(pool.measured()).toEqual(["a"]);
    expect(stateOf("a")).toMatchObject({ kind: "measured" });
  });

  test("of solving leaves the photos measured, and is tried again at the next call", async () => {
    pool.faults.set("solve", "no solution");
    await measuring.settled(id);
    expect(measuring.progress(id)).toEqual({ ...none, measured: 2 });
    pool.faults.clear();
    await measuring.settled(id);
    expect(measuring.progress(id)).toEqual({ ...none, measured: 2, solvedAt: now() });
  });
});

describe("faces photographed more than once", () => {
  const again = () =>
    memory.change((now) => ({ ...now, photos: [...now.photos, photo("d", "W01", "A"), photo("e", "W02", "A")] }));
  const repeats = () => measuring.measured(id).repeats.map((one) => one.photo.slice(0, 1));

  test("are read photo by photo once the colours are solved, the rest is not asked for", async () => {
    await measuring.settled(id);
    expect(pool.count("repeats")).toBe(0);
    expect(repeats()).toEqual([]);
    again();
    await measuring.settled(id);
    expect(repeats()).toEqual(["a", "d"]);
    await measuring.settled(id);
    expect(pool.count("repeats")).toBe(1);
  });

  test("that cannot be read leave the colours as they are", async () => {
    again();
    pool.faults.set("repeats", "no solution");
    await measuring.settled(id);
    expect(measuring.progress(id)).toMatchObject({ measured: 4, solvedAt: now() });
    expect(repeats()).toEqual([]);
  });
});

test("settled waits for all that was asked before it", async () => {
  const go = pool.hold();
  let settled = false;
  const waiting = measuring.settled(id).then(() => {
    settled = true;
  });
  await expect.poll(() => pool.measured().length).toBe(2);
  expect(settled).toBe(false);
  go();
  await waiting;
  expect(measuring.progress(id).waiting).toBe(0);
});

test("a photo that stands alone is a retake when the colours are solved", async () => {
  memory.change((delivery) => ({ ...delivery, photos: [...delivery.photos, photo("c", "W02", "A")] }));
  await measuring.settled(id);
  expect(stateOf("c")).toMatchObject({ kind: "retake", gates: [{ gate: "no-reference", passed: false }] });
});

test("progress is told to those who listen, until they no longer do", async () => {
  const heard: (readonly [string, Progress])[] = [];
  const stop = measuring.onProgress((delivery, progress) => heard.push([delivery, progress]));
  await measuring.settled(id);
  expect(heard.slice(0, 3)).toEqual([
    [id, { ...none, waiting: 1, measured: 1 }],
    [id, { ...none, measured: 2 }],
    [id, { ...none, measured: 2, solvedAt: now() }],
  ]);
  await expect.poll(() => pool.count("look")).toBe(2);
  await expect.poll(() => heard.length).toBeGreaterThan(3);
  stop();
  const before = heard.length;
  memory.change((delivery) => ({ ...delivery, photos: [...delivery.photos, photo("c", "W02", "A")] }));
  await measuring.settled(id);
  expect(heard).toHaveLength(before);
});

describe("the close looks", () => {
  const looked = () => [...memory.kept.values()].filter((text) => text.includes("crown")).length;

  test("come after the colours, one a face, of single photos only, and are kept", async () => {
    const lineUp = { ...aPhoto("line-up", ["W01", "A"], ["W02", "A"]), id: "d".repeat(64) };
    memory.change((delivery) => ({ ...delivery, photos: [...delivery.photos, lineUp] }));
    await measuring.settled(id);
    await expect.poll(looked).toBe(2);
    expect(pool.jobs.map(({ kind }) => kind)).toEqual([
      "measure",
      "measure",
      "measure",
      "solve",
      "repeats",
      "look",
      "look",
    ]);
    restart();
    await measuring.settled(id);
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(pool.jobs.map(({ kind }) => kind)).toEqual(["solve", "repeats"]);
  });

  test("that fail leave the face without one and do not come again", async () => {
    pool.faults.set("look", "no look");
    await measuring.settled(id);
    await expect.poll(() => pool.count("look")).toBe(2);
    await measuring.settled(id);
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(pool.count("look")).toBe(2);
    expect(measuring.progress(id)).toMatchObject({ measured: 2, failed: 0 });
  });
});

test("a mark's contrast is measured where its face was found, and not at all on a leaf that is not there", async () => {
  await measuring.settled(id);
  const box = { x: 1, y: 2, w: 3, h: 4 };
  expect(await measuring.measured(id).markContrast({ leaf: "W01", face: "A" }, box)).toBe(3.5);
  expect(pool.jobs.filter(({ kind }) => kind === "contrast")).toMatchObject([{ path: "/photos/a.jpg", box }]);
  expect(await measuring.measured(id).markContrast({ leaf: "W02", face: "A" }, box)).toBeNull();
});

describe("a pool that cannot work at present", () => {
  const kinds = ["measure", "solve", "repeats", "look"] as const;

  test.each(kinds)("loses nothing: A15, asked again after its rest (%s)", async (kind) => {
    vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
    onTestFinished(() => void vi.useRealTimers());
    memory.change((delivery) => ({
      ...delivery,
      photos: [...delivery.photos, photo("d", "W01", "A"), photo("e", "W02", "A")],
    }));
    pool.resting.add(kind);
    await measuring.settled(id);
    await new Promise(setImmediate);
    expect(measuring.progress(id)).toMatchObject({ failed: 0, ...(kind === "measure" ? { waiting: 4 } : {}) });
    const asked = pool.count(kind);
    expect(asked).toBeGreaterThan(0);
    pool.resting.clear();
    await vi.advanceTimersByTimeAsync(limits.jobs.restMs + 2000);
    for (let turn = 0; turn < 20; turn++) await new Promise(setImmediate);
    expect(pool.count(kind)).toBeGreaterThan(asked);
    expect(measuring.progress(id)).toMatchObject({ waiting: 0, measured: 4, failed: 0 });
    const seen = measuring.measured(id);
    expect(seen.state("a".repeat(64)).kind).toBe("measured");
    if (kind === "look") expect(pool.count("look")).toBeGreaterThan(asked + 3);
  });
});
