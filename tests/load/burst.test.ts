import { afterAll, beforeAll, expect, test } from "vitest";
import { camera } from "./camera.ts";
import { allAnalysed, phones } from "./phones.ts";
import { takenByTree, type WatchedServer, watchedServer } from "./watched-server.ts";

let server: WatchedServer;
beforeAll(async () => {
  server = await watchedServer();
});
afterAll(() => server.remove());

/** A tenth of `npm run load`, its times ten times its bars: other tests run on the same two cores. `npm run load` holds them to the bars. */
test.skipIf(process.platform !== "linux")(
  "B1 to B4: six phones with two photos each are taken in and measured, and light calls stay light",
  async () => {
    const take = await camera(12, 2);
    const probed = server.probe();
    await server.stalls();
    const acknowledged = await phones(server, 6, 2, take);
    const became = await allAnalysed(server);
    const stalls = await server.stalls();
    const light = await probed();
    const [own, ...children] = takenByTree(server.pid);
    const last = acknowledged.at(-1) ?? 0;
    console.log(
      `B1: acknowledged after ${last.toFixed(1)} s at most. B2: server ${own?.mostMB.toFixed(0)} MB, children ${children.map(({ mostMB }) => mostMB.toFixed(0)).join(", ")} MB. B3: p50 ${light.p50.toFixed(0)}, p99 ${light.p99.toFixed(0)} ms. B4: p99 ${stalls.p99.toFixed(0)}, longest ${stalls.most.toFixed(0)} ms.`,
    );
    expect(acknowledged.length).toBe(12);
    expect(became).toMatchObject({ waiting: 0, failed: 0 });
    expect(last).toBeLessThan(30);
    expect(own?.mostMB).toBeLessThan(250);
    for (const { mostMB } of children) expect(mostMB).toBeLessThan(500);
    expect(light.failed).toBe(0);
    expect(light.p50).toBeLessThan(150);
    expect(light.p99).toBeLessThan(1000);
    expect(stalls.p99).toBeLessThan(200);
  },
  180_000,
);
