import type { ChildProcess } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Examined } from "../../../server/site.ts";
import type { Job } from "../../../server/workers/jobs.ts";
import { startChild } from "../../../server/workers/start-child.ts";
import { tellingJpeg, tellingPng } from "../../support/odd-pictures/camera-written.ts";
import { manyScans } from "../../support/odd-pictures/many-scans.ts";
import { mutated } from "../../support/odd-pictures/mutate.ts";
import { busyJpeg, progressive, sampleHeic } from "../../support/odd-pictures/odd-picture.ts";
import { blackPng } from "../../support/photo-files.ts";

/** Files in all; a long run takes the number from the environment. */
const files = Number(process.env.MUTATIONS ?? 400);

/** Longest a file may take before it is said to hang; the server ends its child then. */
const hangsAfterMs = 10_000;

let child: ChildProcess;
let folder: string;
let ended: string | null = null;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "leafledger-test-"));
  child = startChild("child");
  child.on("exit", (code, signal) => {
    ended = `the child ended with ${code ?? signal}`;
  });
});

afterAll(async () => {
  child.removeAllListeners("exit");
  child.kill();
  await rm(folder, { recursive: true, force: true });
});

interface Answer {
  readonly id?: number;
  readonly value?: unknown;
  readonly error?: string;
}

let asked = 0;

const run = (job: Job): Promise<Answer> =>
  new Promise((done, fail) => {
    asked += 1;
    const id = asked;
    const settle = (finish: () => void) => {
      clearTimeout(hung);
      child.off("exit", gone).off("message", hear);
      finish();
    };
    const gone = () => settle(() => fail(new Error(ended ?? "the child ended")));
    const hear = (answer: Answer) => {
      if (answer.id === id) settle(() => done(answer));
    };
    const hung = setTimeout(() => settle(() => fail(new Error("it hangs"))), hangsAfterMs);
    child.on("exit", gone).on("message", hear);
    child.send({ id, job });
  });

test(
  `C40: ${files} mutated pictures neither end nor hold up the process that opens them`,
  async () => {
    const seeds = [
      tellingJpeg(),
      progressive,
      manyScans(1200, 900, 60),
      tellingPng(),
      blackPng(1200, 900, 8),
      busyJpeg,
    ];
    const heic = await sampleHeic();
    const answers = new Map<string, number>();
    const path = join(folder, "picture");
    let slowest = 0;
    for (let i = 0; i < files; i += 1) {
      // A HEIC takes as long as ten others: one in ten.
      const file = mutated(i % 10 === 9 ? heic : (seeds[i % seeds.length] ?? heic), i);
      await writeFile(path, file);
      const begun = performance.now();
      const { value, error } = await run({ kind: "examine", path }).catch((fault: Error) => {
        throw new Error(`mutation ${i}: ${fault.message}`);
      });
      expect(error, `mutation ${i}`).toBeUndefined();
      const seen = value as Examined;
      // What is taken in is shown and measured: that may fail, but must not end the process.
      if (seen.kind === "photo" && i % 5 === 0) await run({ kind: "preview", path, longestPx: 400 });
      slowest = Math.max(slowest, performance.now() - begun);
      const answer = seen.kind === "photo" ? "taken" : String(seen.status);
      answers.set(answer, (answers.get(answer) ?? 0) + 1);
    }
    console.info(`${files} mutated pictures, slowest ${Math.round(slowest)} ms:`, Object.fromEntries(answers));
    expect(ended).toBeNull();
    expect([...answers.keys()].length).toBeGreaterThan(2);
  },
  60_000 + 1000 * files,
);
