import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { ended, startScript } from "../../support/tsx-process.ts";

const run = async (...args: string[]): Promise<{ code: number | null; out: string; err: string }> => {
  const child = startScript("server/cli/main.ts", "allot", ...args);
  let [out, err] = ["", ""];
  child.stdout.on("data", (data) => {
    out += String(data);
  });
  child.stderr.on("data", (data) => {
    err += String(data);
  });
  return { code: await ended(child), out, err };
};

/** L* of the one face each leaf shows to the corridor; the difference of two faces is that of their L*. */
const lightness = { W01: 50, W02: 51, W03: 60 };
const faces = Object.keys(lightness).flatMap((leaf) => [`${leaf}/A`, `${leaf}/B`]);
const lightnessOf = (face: string): number => Object.entries(lightness).find(([leaf]) => face.startsWith(leaf))![1];
const problem = {
  leaves: Object.entries(lightness).map(([id, L]) => ({
    id,
    fits: { spec: "oak" },
    faces: { A: { id: `${id}/A`, lightness: L }, B: { id: `${id}/B`, lightness: L } },
  })),
  openings: ["1.01", "1.02", "1.03"].map((id) => ({ id, spec: "oak", spaces: ["corridor", null] })),
  spaces: [{ id: "corridor" }],
  differences: {
    faces,
    deltaE: faces.map((one) => faces.map((other) => Math.abs(lightnessOf(one) - lightnessOf(other)))),
  },
  colours: faces.map((face) => ({ face, parts: [{ part: "panel", lab: [lightnessOf(face), 8, 20] }] })),
};

let file: string;
let before: string;
beforeEach(async () => {
  const folder = await temporaryFolder();
  file = join(folder, "problem.json");
  before = join(folder, "plan.json");
  await writeFile(file, JSON.stringify(problem));
  const place = (opening: string, leaf: string) => ({ opening, place: 0, leaf, turned: false });
  await writeFile(
    before,
    JSON.stringify({ places: [place("1.01", "W01"), place("1.02", "W02"), place("1.03", "W03")] }),
  );
});

describe("questions about an allotment", { timeout: 60_000 }, () => {
  test("which leaves to return: the strange one, and what to order for it", async () => {
    const { out } = await run(file, "--returns", "2");
    expect(out).toMatch(/^1 leaf needs to be replaced for every space to keep ΔE00 2 \(proven fewest\)\./);
    expect(out).toMatch(/W03 goes back {2}order one like W0[12]/);
    const { out: json } = await run(file, "--returns", "2", "--json");
    expect(JSON.parse(json)).toMatchObject({ kind: "returns", bound: 1, proven: true, replace: [{ returned: "W03" }] });
    expect((await run(file, "--returns", "12")).out).toBe("No leaf needs to go back: every space keeps ΔE00 12.\n");
  });

  test("a leaf is late: what the others look like meanwhile, and once it has come", async () => {
    const { out } = await run(file, "--late", "W03");
    expect(out).toMatch(
      /^Leave 1\.0\d empty for W03 \(best until it comes\): worst ΔE00 1\.00 until it comes, 10\.00 then\./,
    );
  });

  test("a lock, and a plan before: what moves", async () => {
    const lock = await run(file, "--lock", "W03=1.01", "--from", before);
    expect(lock.out).toMatch(/2 leaves move, 0 from places where they could stay \(proven fewest\)/);
    const moves = await run(file, "--from", before);
    expect(moves.out).toMatch(/0 leaves move, .*\(proven fewest\), worst ΔE00 10\.00\.\nNo leaf moves\./);
  });

  test("what a new leaf must look like, between those beside it", async () => {
    const { out } = await run(file, "--replace", "1.03", "--from", before);
    expect(out).toMatch(/corridor {2}panel {2}L\* 49\.0-52\.0 .*the same as W0[12]\/[AB]/);
  });

  test("what would lower the worst, and to what", async () => {
    const { out } = await run(file, "--lift");
    expect(out).toMatch(/^The worst difference of the best plan is ΔE00 10\.00\.\nForced by corridor: W03 face/);
    expect(out).toMatch(/ΔE00 1\.00 {2}another leaf in place of W03/);
    const { out: json } = await run(file, "--lift", "--json");
    const answer = JSON.parse(json);
    expect(answer).toMatchObject({ kind: "lift", worst: 10 });
    expect(answer.lifts[0]).toEqual({ by: "other-leaf", leaf: "W03", worst: 1, bound: 1 });
  });

  test("how sure the plan is: spaces with the range of their worst, leaves to return", async () => {
    const u95 = faces.map((one) => faces.map((other) => (one === other ? 0 : 0.5)));
    await writeFile(file, JSON.stringify({ ...problem, differences: { ...problem.differences, u95 } }));
    const { out } = await run(file, "--sure", "--from", before);
    expect(out).toMatch(/corridor {2}10\.00 {2}9\.50-10\.50 {2}surely over/);
    expect(out).toMatch(/W03 {2}return/);
  });

  test("refused by name: two questions at once, no such leaf, opening or lock", async () => {
    expect(await run(file, "--late", "W03", "--returns", "2")).toMatchObject({ code: 2 });
    for (const [args, says] of [
      [["--late", "W09"], "leaf W09 does not exist"],
      [["--lock", "W03"], "The lock W03 is not LEAF=OPENING."],
      [["--replace", "9.99"], "There is no opening 9.99."],
      [["--returns", "two"], "The tolerance is two: give a number from 0 up."],
    ] as const)
      expect(await run(file, ...args)).toMatchObject({ code: 1, err: expect.stringContaining(says) });
  });
});
