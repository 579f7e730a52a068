import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { ended, firstLine, startScript } from "../../support/tsx-process.ts";
import { journalPath, writeDelivery } from "../../support/written-delivery.ts";

const run = async (...args: string[]): Promise<{ code: number | null; out: string; err: string }> => {
  const child = startScript("server/cli/main.ts", ...args);
  let [out, err] = ["", ""];
  child.stdout.on("data", (data) => {
    out += String(data);
  });
  child.stderr.on("data", (data) => {
    err += String(data);
  });
  const code = await ended(child);
  return { code, out, err };
};

const problem = {
  leaves: ["W01", "W02"].map((id, index) => ({
    id,
    fits: { spec: "oak" },
    faces: { A: { id: `${id}/A`, lightness: 50 + index }, B: { id: `${id}/B`, lightness: 60 } },
  })),
  openings: ["1.01", "1.02"].map((id) => ({ id, spec: "oak", spaces: ["corridor", null] })),
  spaces: [{ id: "corridor" }],
  differences: {
    faces: ["W01/A", "W01/B", "W02/A", "W02/B"],
    deltaE: [
      [0, 5, 3, 4],
      [5, 0, 6, 0.5],
      [3, 6, 0, 7],
      [4, 0.5, 7, 0],
    ],
  },
};

describe("the command line", { timeout: 60_000 }, () => {
  test("help teaches with an example, wrong use ends with 2", async () => {
    const help = await run("record", "--help");
    expect(help.code).toBe(0);
    expect(help.out).toMatch(/Example:\n {2}\$ leafledger record brannochquay --return W03 W07/);
    expect((await run("paint")).code).toBe(2);
    expect((await run("inspect")).code).toBe(2);
    expect((await run("record", "tarnmill", "--return", "W01", "--revises", "x")).code).toBe(2);
    expect(await run("record", "tarnmill")).toMatchObject({
      code: 2,
      err: expect.stringContaining("--accept or after --return"),
    });
    expect(await run("allot", "/no/such.json")).toMatchObject({
      code: 1,
      err: expect.stringMatching(/such\.json cannot be read/),
    });
  });

  test("allot answers in words and in JSON, and names what an impossible plan lacks", async () => {
    const folder = await temporaryFolder();
    const file = join(folder, "problem.json");
    await writeFile(file, JSON.stringify(problem));
    const words = await run("allot", file);
    expect(words.code).toBe(0);
    expect(words.out).toContain("Largest difference seen in one space: ΔE00 0.50 (proven best).");
    expect(words.out).toMatch(/Forced by corridor: W01 face B at 1\.0\d with W02 face B at 1\.0\d \(ΔE00 0\.50\)\./);
    expect(words.out).toMatch(/Way +worst +mean +spaces over 2\nthis plan +0\.50 +0\.50 +0\npicked by eye/);
    expect(words.err).toBe("");
    const { code, out, err } = await run("allot", file, "--json", "--progress");
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ kind: "plan", worst: 0.5, proven: true, ways: { plan: { worst: 0.5 } } });
    expect(err).toMatch(/Worst so far ΔE00 0\.50, cannot be below 0\.50\.\n$/);

    await writeFile(
      file,
      JSON.stringify({
        ...problem,
        openings: [...problem.openings, { id: "1.03", spec: "elm", spaces: [null, null] }],
      }),
    );
    const impossible = await run("allot", file);
    expect(impossible.code).toBe(1);
    expect(impossible.err).toMatch(/There is no plan for all openings\.\n {2}1\.03: /);

    await writeFile(file, '{"leaves":[]}');
    expect(await run("allot", file)).toMatchObject({
      code: 1,
      err: expect.stringMatching(/is not an allotment to solve\.\n {2}openings: /),
    });
  });

  test("verify says sound, and after one changed byte which line is not", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    expect(await run("verify", "--data", folder)).toMatchObject({
      code: 0,
      out: "tarnmill: sound, 4 things checked.\n",
    });
    const journal = await readFile(journalPath(folder), "utf8");
    await writeFile(journalPath(folder), journal.replace("Counted 2", "Counted 7"));
    const { code, out } = await run("verify", "tarnmill", "--data", folder, "--json");
    expect(code).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      sound: false,
      deliveries: [{ delivery: "tarnmill", faults: [expect.stringMatching(/line 3 was changed/)] }],
    });
    expect((await run("verify", "nosuch", "--data", folder)).code).toBe(1);
    const mistyped = await run("verify", "--data", join(folder, "mistyped"));
    expect(mistyped).toMatchObject({ code: 1, err: expect.stringContaining("There is no data folder") });
  });

  test("inspect of a folder without a job file says what to write", async () => {
    const folder = await temporaryFolder();
    await mkdir(join(folder, "photos"));
    expect(await run("inspect", folder)).toMatchObject({
      code: 1,
      err: expect.stringMatching(/There is no job\.json/),
    });
  });

  test("repeat of a delivery tells what to photograph, and needs a folder or a delivery", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 1);
    const { code, out } = await run("repeat", "--delivery", "tarnmill", "--data", folder);
    expect(code).toBe(0);
    expect(out).toMatch(/^No face was photographed more than once\.\n\nPhotograph one face of three leaves/);
    const json = await run("repeat", "--delivery", "tarnmill", "--data", folder, "--json");
    expect(JSON.parse(json.out)).toMatchObject({ ways: [], gauges: [], tolerance: expect.any(Number) });
    expect((await run("repeat", "--delivery", "nosuch", "--data", folder)).err).toContain(
      "There is no delivery nosuch",
    );
    for (const wrong of [["repeat"], ["repeat", folder, "--delivery", "tarnmill"]])
      expect(await run(...wrong)).toMatchObject({ code: 2, err: expect.stringContaining("one of the two") });
  });

  test("serve prints its address, answers there, keeps others out of its folder, and ends in order", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 1);
    const child = startScript("server/cli/main.ts", "serve", "--data", folder, "--port", "0");
    const address = /http:\/\/localhost:\d+\//.exec(await firstLine(child))?.[0] ?? "";
    expect(await (await fetch(`${address}healthz`)).json()).toEqual({ alive: true });
    const second = await run("serve", "--data", folder, "--port", "0");
    expect(second).toMatchObject({ code: 1, err: expect.stringContaining(`already in use by process ${child.pid}`) });
    expect((await run("verify", "--data", folder)).code).toBe(0);
    child.kill("SIGTERM");
    expect(await ended(child)).toBe(0);
    expect((await run("verify", "--data", folder)).code).toBe(0);
    expect(await run("serve", "--data", folder, "--port", "x")).toMatchObject({
      code: 2,
      err: expect.stringMatching(/'--port <number>'.*whole number from 0 to 65535/),
    });
  });
});
