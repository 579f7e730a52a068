/**
 * Load on the built server: `npm run load` (20 phones, 5 photos of 12 megapixels each) or `npm run load -- 20 5 48`. Prints the figures
 * of B1 to B4 against their bars.
 */
import { cpus } from "node:os";
import { camera } from "./camera.ts";
import { allAnalysed, phones } from "./phones.ts";
import { takenByTree, watchedServer } from "./watched-server.ts";

const [count = 20, each = 5, megapixels = 12] = process.argv.slice(2).map(Number);
const line = (bar: string, what: string, value: number, most: number, unit: string) =>
  console.log(
    `${bar}  ${what.padEnd(44)} ${value.toFixed(value < 10 ? 2 : 0).padStart(7)} ${unit}  ${value <= most ? "met" : "MISSED"} (${most})`,
  );

const take = await camera(megapixels);
console.log(
  `${count} phones, ${each} photos each of ${megapixels} MP (${(take().length / 1e6).toFixed(1)} MB), ${cpus().length} cores`,
);
const server = await watchedServer();
try {
  const probed = server.probe();
  const begun = performance.now();
  const acknowledged = await phones(server, count, each, take);
  const sentS = (performance.now() - begun) / 1000;
  const sending = await server.stalls();
  const became = await allAnalysed(server);
  const analysedS = (performance.now() - begun) / 1000;
  const measuring = await server.stalls();
  const light = await probed();
  const taken = takenByTree(server.pid);
  const [own, ...children] = taken;
  line("B1", "photos acknowledged, 95th percentile", acknowledged[Math.floor(0.95 * acknowledged.length)] ?? 0, 3, "s");
  line("B1", "all sent after", sentS, Number.POSITIVE_INFINITY, "s");
  line("B1", "all analysed after", analysedS, 120, "s");
  line("B2", "server at its highest", own?.mostMB ?? 0, 250, "MB");
  line("B2", "child at its highest", Math.max(...children.map(({ mostMB }) => mostMB)), 500, "MB");
  line(
    "B2",
    "server and children at their highest",
    taken.reduce((sum, { mostMB }) => sum + mostMB, 0),
    750,
    "MB",
  );
  line("B3", "light calls, median", light.p50, 15, "ms");
  line("B3", `light calls, 99th percentile of ${light.asked}`, light.p99, 100, "ms");
  line("B4", "event loop, longest stall while sending", sending.most, 50, "ms");
  line("B4", "event loop, 99th percentile while sending", sending.p99, 20, "ms");
  line("B4", "event loop, longest stall while measuring", measuring.most, 50, "ms");
  line("B4", "event loop, 99th percentile while measuring", measuring.p99, 20, "ms");
  console.log(`light calls that failed: ${light.failed}; photos: ${JSON.stringify(became)}`);
} finally {
  await server.remove();
}
