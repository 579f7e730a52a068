import { readFile } from "node:fs/promises";
import { setTimeout } from "node:timers/promises";
import { expect, onTestFinished, test } from "vitest";
import { startChild } from "../../../server/workers/start-child.ts";

/** Variables by which Node tells a child of its channel, and nothing else of ours. */
const allowed = /^(PATH|LANG|SystemRoot|NODE_CHANNEL_FD|NODE_CHANNEL_SERIALIZATION_MODE)=/;

const environmentOf = async (pid: number): Promise<string[]> => {
  for (;;) {
    const text = await readFile(`/proc/${pid}/environ`, "latin1");
    if (text.includes("NODE_CHANNEL_FD=")) return text.split("\0").filter(Boolean);
    await setTimeout(5); // until it has become the child's own
  }
};

test.skipIf(process.platform !== "linux").each(["child", "planning-child"] as const)(
  "D18: the %s gets nothing of the server's environment but where programs are",
  async (name) => {
    process.env.LEAFLEDGER_SECRET = "s3cret";
    process.env.HTTP_PROXY = "http://proxy";
    const child = startChild(name);
    onTestFinished(() => {
      delete process.env.LEAFLEDGER_SECRET;
      delete process.env.HTTP_PROXY;
      child.kill();
    });
    const environment = await environmentOf(child.pid ?? 0);
    expect(environment.length).toBeGreaterThan(1);
    expect(environment.filter((line) => !allowed.test(line))).toEqual([]);
  },
);
