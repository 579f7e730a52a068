/**
 * Phones that go on sending: `npm run soak` (30 minutes) or `npm run soak -- 5`. After a warm-up of a fifth of the time the memory of
 * the server and its children may grow by 1 MB a minute at most, and its open files not at all (B10).
 */
import { camera } from "./camera.ts";
import { phones } from "./phones.ts";
import { takenByTree, watchedServer } from "./watched-server.ts";

const [minutes = 30] = process.argv.slice(2).map(Number);
const megapixels = 12;
const perRound = 5;

/** Least-squares slope of points [minute, value]. */
const slope = (points: readonly (readonly [number, number])[]): number => {
  const mean = (k: 0 | 1) => points.reduce((sum, point) => sum + point[k], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const over = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0);
  return over / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0);
};

const take = await camera(megapixels);
const server = await watchedServer();
try {
  const begun = performance.now();
  const minute = () => (performance.now() - begun) / 60_000;
  const seen: { at: number; server: number; tree: number; files: number }[] = [];
  let sent = 0;
  while (minute() < minutes) {
    sent += (await phones(server, perRound, 1, take)).length;
    const taken = takenByTree(server.pid);
    const [own] = taken;
    const tree = taken.reduce((sum, { nowMB }) => sum + nowMB, 0);
    seen.push({ at: minute(), server: own?.nowMB ?? 0, tree, files: own?.files ?? 0 });
    // Two thirds of the time is left for measuring, as at the rate of the load test: a photo is measured in about half a second.
    await new Promise((done) => setTimeout(done, 3000));
  }
  const warm = seen.filter(({ at }) => at > minutes / 5);
  const grows = (of: "server" | "tree" | "files") => slope(warm.map((one) => [one.at, one[of]] as const));
  const last = warm.at(-1);
  console.log(`B10  ${sent} photos in ${minutes} minutes`);
  console.log(`B10  server ${last?.server.toFixed(0)} MB, ${grows("server").toFixed(2)} MB a minute`);
  console.log(`B10  with children ${last?.tree.toFixed(0)} MB, ${grows("tree").toFixed(2)} MB a minute (most: 1)`);
  console.log(`B10  open files ${warm[0]?.files} to ${last?.files}`);
} finally {
  await server.remove();
}
