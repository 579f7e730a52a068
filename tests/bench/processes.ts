/** What the child processes take: time of two against one, memory of one. */
import { fork } from "node:child_process";
import { once } from "node:events";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import type { MeasureRequest } from "../../server/workers/measurement.ts";
import { built } from "./built.ts";

const { openProcessPool } =
  await built<typeof import("../../server/workers/process-pool.ts")>("server/workers/process-pool");

/** Photos a second by the clock with so many children, each of which has measured a photo before. */
const photosPerSecond = async (request: MeasureRequest, children: number, photos: number): Promise<number> => {
  const pool = openProcessPool(children);
  const measure = (count: number) =>
    Promise.all(Array.from({ length: count }, () => pool.run({ kind: "measure", request })));
  await measure(2 * children);
  const started = performance.now();
  await measure(photos);
  const seconds = (performance.now() - started) / 1000;
  await pool.close();
  return photos / seconds;
};

/** How many times the photos a second of one child two do, in alternated rounds, the least first. */
export const twoAgainstOne = async (request: MeasureRequest, rounds = 5, photos = 10): Promise<number[]> => {
  const times: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const one = await photosPerSecond(request, 1, photos);
    times.push((await photosPerSecond(request, 2, photos)) / one);
  }
  return times.sort((a, b) => a - b);
};

/** Memory of a child in MB after each of so many photos, and the most it ever had. Linux only. */
export const memoryOfChild = async (
  request: MeasureRequest,
  photos = 40,
): Promise<{ after: number[]; most: number }> => {
  const child = fork(fileURLToPath(new URL("../../dist/server/workers/child.js", import.meta.url)), [], {
    serialization: "advanced",
    execArgv: [],
  });
  const megabytes = async (field: "VmRSS" | "VmHWM"): Promise<number> => {
    const status = await readFile(`/proc/${child.pid}/status`, "utf8");
    return Number(new RegExp(`^${field}:\\s+(\\d+) kB`, "m").exec(status)?.[1]) / 1000;
  };
  const after: number[] = [];
  for (let id = 0; id < photos; id += 1) {
    child.send({ id, job: { kind: "measure", request } });
    await once(child, "message");
    after.push(await megabytes("VmRSS"));
  }
  const most = await megabytes("VmHWM");
  child.disconnect();
  return { after, most };
};
