import { type ChildProcess, execFileSync } from "node:child_process";
import { once } from "node:events";
import { open, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { limits } from "../../../server/limits.ts";
import type { Examined } from "../../../server/site.ts";
import { openDarkroom } from "../../../server/workers/darkroom.ts";
import type { Job } from "../../../server/workers/jobs.ts";
import { openProcessPool, type ProcessPool } from "../../../server/workers/process-pool.ts";
import { brownJpeg, writtenFile } from "../../support/photo-files.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";

/** Every child started, so that a test can end it as a fault of a decoder would. */
const children = vi.hoisted((): ChildProcess[] => []);
/** How the next children are broken: their program is not there, or their file ends at once. */
const broken = vi.hoisted((): { how: "program" | "file" | null } => ({ how: null }));
vi.mock("node:child_process", async (original) => {
  const real = await original<typeof import("node:child_process")>();
  const fork = (file: string, args: string[], options: import("node:child_process").ForkOptions) => {
    const child =
      broken.how === "program"
        ? real.fork(file, args, { ...options, execPath: "/no/such/program" })
        : real.fork(broken.how === "file" ? "/no/such/file.js" : file, args, {
            ...options,
            silent: broken.how !== null,
          });
    children.push(child);
    return child;
  };
  return { ...real, fork };
});

let pool: ProcessPool;
beforeEach(() => {
  children.length = 0;
  broken.how = null;
  pool = openProcessPool(1);
});
afterEach(() => pool.close());

const looksAt = (path: string): Job => ({ kind: "examine", path });

const photoOf = async (width: number): Promise<string> => writtenFile(await brownJpeg(width, 1000));

const widthOf = (answer: unknown): unknown => (answer as Examined & { width: number }).width;

/** A pipe in place of a photo: the child that opens it waits until the test writes a photo into it. */
const pipe = async () => {
  const path = join(await temporaryFolder(), "photo.jpg");
  execFileSync("sh", ["-c", 'mkfifo "$0"', path]);
  /** Resolves when a child has opened it, that is, when it is in the middle of the job. */
  const opened = () => open(path, "w");
  return { path, opened };
};

/** Ends the child at work and waits until it is gone. */
const killChild = async (signal: NodeJS.Signals = "SIGKILL"): Promise<void> => {
  const child = children.at(-1);
  if (!child) throw new Error("no child was started");
  const gone = once(child, "exit");
  child.kill(signal);
  await gone;
};

describe("jobs", () => {
  test("are answered in their order by one child", async () => {
    const widths = [1001, 1002, 1003, 1004];
    const paths = await Promise.all(widths.map(photoOf));
    const order: unknown[] = [];
    await Promise.all(paths.map((path) => pool.run(looksAt(path)).then((answer) => order.push(widthOf(answer)))));
    expect(order).toEqual(widths);
    expect(children).toHaveLength(1);
  });

  test("a person waits for go before those that wait already", async () => {
    const { path, opened } = await pipe();
    const order: string[] = [];
    const run = async (name: string, at: string, urgent?: boolean) => {
      await pool.run(looksAt(at), urgent).catch(() => undefined);
      order.push(name);
    };
    const [first, second, urgent] = await Promise.all([1001, 1002, 1003].map(photoOf));
    const all = [
      run("at work", path),
      run("first", first ?? ""),
      run("second", second ?? ""),
      run("urgent", urgent ?? "", true),
    ];
    const reading = await opened();
    await reading.writeFile(await brownJpeg());
    await reading.close();
    await Promise.all(all);
    expect(order).toEqual(["at work", "urgent", "first", "second"]);
  });

  test("a job that fails says why, and the next is done by the same child", async () => {
    await expect(pool.run({ kind: "preview", path: "/no/such/photo.jpg", longestPx: 100 })).rejects.toThrow("ENOENT");
    expect(widthOf(await pool.run(looksAt(await photoOf(1010))))).toBe(1010);
    expect(children).toHaveLength(1);
  });

  test("a picture comes back as bytes through the darkroom", async () => {
    const darkroom = openDarkroom(pool);
    const small = await darkroom.preview(await photoOf(1200), 300);
    expect(Buffer.isBuffer(small)).toBe(true);
    expect([...small.subarray(0, 3)]).toEqual([0xff, 0xd8, 0xff]);
  });
});

describe("a child that is killed in the middle of a job", () => {
  test("is replaced, and the job done once more", async () => {
    const { path, opened } = await pipe();
    const job = pool.run(looksAt(path));
    const first = await opened();
    await killChild();
    await first.close();
    const second = await opened();
    await second.writeFile(await brownJpeg(1300, 1000));
    await second.close();
    expect(widthOf(await job)).toBe(1300);
    expect(children).toHaveLength(2);
  });

  test("twice is told in a sentence, and the jobs behind it are done", async () => {
    const { path, opened } = await pipe();
    const job = pool.run(looksAt(path));
    const behind = pool.run(looksAt(await photoOf(1020)));
    const told = expect(job).rejects.toThrow("the process that opens it ended twice");
    for (const attempt of [1, 2]) {
      const reading = await opened();
      expect(children).toHaveLength(attempt);
      await killChild();
      await reading.close();
    }
    await told;
    expect(widthOf(await behind)).toBe(1020);
    expect(children).toHaveLength(3);
  });
});

test("A15: whatever ends children, each job is answered or told as lost, and the pool goes on", async () => {
  const ends = ["SIGSEGV", "SIGKILL", "SIGABRT", "SIGBUS"] as const;
  for (const [k, signal] of ends.entries()) {
    const { path, opened } = await pipe();
    const job = pool.run(looksAt(path));
    const lost = k % 2 === 1;
    const told = lost
      ? expect(job).rejects.toThrow("ended twice")
      : expect(job).resolves.toMatchObject({ width: 1300 });
    for (const attempt of lost ? [1, 2] : [1]) {
      const reading = await opened();
      await killChild(signal);
      await reading.close();
      expect(children.length, `try ${attempt}`).toBeGreaterThan(k);
    }
    if (!lost) {
      const reading = await opened();
      await reading.writeFile(await brownJpeg(1300, 1000));
      await reading.close();
    }
    await told;
  }
  expect(widthOf(await pool.run(looksAt(await photoOf(1050))))).toBe(1050);
});

describe("A15: a child that does not start", () => {
  test.each(["program", "file"] as const)(
    "for want of its %s is tried a few times, then told in a sentence",
    async (how) => {
      broken.how = how;
      const paths = await Promise.all([1001, 1002, 1003].map(photoOf));
      const told = paths.map((path) => expect(pool.run(looksAt(path))).rejects.toThrow("Start Leafledger again."));
      await Promise.all(told);
      expect(children).toHaveLength(limits.jobs.starts);
      broken.how = null;
      await expect(pool.run(looksAt(paths[0] ?? ""))).rejects.toThrow("does not start");
      expect(children, "it rests").toHaveLength(limits.jobs.starts);
      vi.spyOn(performance, "now").mockReturnValue(performance.now() + limits.jobs.restMs);
      expect(widthOf(await pool.run(looksAt(paths[0] ?? "")))).toBe(1001);
      vi.restoreAllMocks();
    },
  );
});

test("D18: a child is let go after so many jobs", async () => {
  const small = await writtenFile("");
  for (let k = 0; k <= limits.jobs.perProcess; k++) await pool.run(looksAt(small));
  expect(children).toHaveLength(2);
});

test("D18: a photo that takes too long to open ends its process, and is told as lost", async () => {
  const { path } = await pipe();
  const real = globalThis.setTimeout;
  const sooner = (run: () => void, ms?: number) => real(run, ms === limits.jobs.decodeMs ? 3000 : ms);
  vi.spyOn(globalThis, "setTimeout").mockImplementation(sooner as typeof setTimeout);
  await expect(pool.run(looksAt(path))).rejects.toThrow("The photo could not be analysed");
  expect(children).toHaveLength(2);
  vi.restoreAllMocks();
});

describe("a child killed between two jobs", () => {
  test("is replaced", async () => {
    const path = await photoOf(1030);
    await pool.run(looksAt(path));
    await killChild();
    expect(widthOf(await pool.run(looksAt(path)))).toBe(1030);
    expect(children).toHaveLength(2);
  });

  test("is replaced though the pool has not heard of its end when the next job comes", async () => {
    const path = await photoOf(1040);
    await pool.run(looksAt(path));
    expect(children[0]?.listenerCount("error")).toBeGreaterThan(0);
    children[0]?.disconnect();
    expect(widthOf(await pool.run(looksAt(path)))).toBe(1040);
    expect(children).toHaveLength(2);
  });
});

describe("closing", () => {
  test("ends every child and refuses what was not done", async () => {
    pool = openProcessPool(2);
    const pipes = [await pipe(), await pipe()];
    const jobs = [...pipes.map(({ path }) => path), "/waits"].map((path) => pool.run(looksAt(path)));
    const refused = Promise.all(jobs.map((job) => expect(job).rejects.toThrow("closed")));
    const held = await Promise.all(pipes.map(({ opened }) => opened()));
    expect(children).toHaveLength(2);
    const gone = Promise.all(children.map((child) => once(child, "close")));
    await pool.close();
    await refused;
    await gone;
    await Promise.all(held.map((one) => one.close()));
    expect(children).toHaveLength(2);
  });
});

describe.skipIf(process.platform !== "linux")("the environment of a child", () => {
  test("holds nothing of the server's", async () => {
    vi.stubEnv("LEAFLEDGER_SECRET", "4711");
    const { path, opened } = await pipe();
    const job = pool.run(looksAt(path));
    const reading = await opened();
    const environment = (await readFile(`/proc/${children[0]?.pid}/environ`, "latin1")).split("\0").filter(Boolean);
    await reading.writeFile(await brownJpeg());
    await reading.close();
    await job;
    const names = environment.map((line) => line.split("=")[0]);
    expect(names).toContain("PATH");
    expect(names.filter((name) => !/^(PATH|LANG|SystemRoot|NODE_CHANNEL_\w+)$/.test(name ?? ""))).toEqual([]);
    expect(environment.join()).not.toContain("4711");
    vi.unstubAllEnvs();
  });
});
