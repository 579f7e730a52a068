import { join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import { demoId, demoStartsAt } from "../../../server/demo/brannoch-quay.ts";
import { withDemoClock } from "../../../server/demo/demo-clock.ts";
import { seedDemo } from "../../../server/demo/seed.ts";
import { projectFolder } from "../../../server/project-folder.ts";
import { createDelivery } from "../../../server/use-cases/create-delivery.ts";
import { viewLeaf } from "../../../server/use-cases/view-leaf.ts";
import { viewOverview } from "../../../server/use-cases/view-overview.ts";
import { viewReturns } from "../../../server/use-cases/view-returns.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { testSite } from "../../support/test-site.ts";

test("the demo delivery obeys every rule and comes out as the worked example", { timeout: 60_000 }, async () => {
  const site = await testSite();
  onTestFinished(() => site.remove());
  const demo = withDemoClock(site);
  await seedDemo(demo, join(projectFolder(), "sample-images"));

  const overview = viewOverview(demo, demoId);
  expect(
    overview.lines.map((line) => [
      line.line,
      line.ordered,
      line.onNote,
      line.counted,
      line.accepted,
      line.allowance,
      line.held,
      line.returned,
      line.wrong,
      line.short,
      line.over,
      line.balanced,
    ]),
  ).toEqual([
    ["L1", 8, 8, 8, 5, 1, 0, 2, 0, 0, 0, true],
    ["L2", 2, 2, 2, 0, 0, 0, 2, 0, 0, 0, true],
    ["L3", 4, 4, 4, 2, 0, 1, 0, 1, 0, 0, true],
    ["L4", 3, 3, 2, 2, 0, 0, 0, 0, 1, 0, true],
    ["L5", 3, 3, 4, 2, 0, 1, 0, 0, 0, 1, true],
  ]);
  expect(overview.money).toEqual({ total: 7074, pay: 4223, allowance: 45, held: 650, withheld: 2156, undecided: 0 });
  expect(
    overview.leaves.filter(({ faces }) => faces.A === "missing" || faces.B === "missing").map(({ code }) => code),
  ).toEqual(overview.leaves.filter(({ line }) => line === null).map(({ code }) => code));
  expect(overview.windows.map(({ kind, shut }) => [kind, shut])).toEqual([
    ["shortage", true],
    ["damage", false],
    ["defect", false],
    ["haulier-notice", false],
    ["haulier-claim", false],
  ]);
  expect(
    viewReturns(demo, demoId)
      .toReturn.map(({ code }) => code)
      .sort(),
  ).toEqual(["A04", "P1", "P2", "W03", "W07"]);
  expect(viewLeaf(demo, demoId, "W03").marks).toMatchObject([{ judgement: { verdict: "beyond-limits" } }]);
  expect(viewLeaf(demo, demoId, "W05").marks).toMatchObject([{ judgement: { verdict: "within-limits" } }]);
  expect(viewLeaf(demo, demoId, "A02").whyNot.accept).toMatch(/bow 7 mm ± 0.5, agreed limit 6 mm: beyond/);
  expect((await site.store.open(demoId).verify()).faults).toEqual([]);

  expect(demo.now() >= demoStartsAt).toBe(true);
  expect(demo.now() < "2026-03-06T10").toBe(true);
  const { head } = overview;
  await seedDemo(demo, join(projectFolder(), "sample-images"));
  expect(site.store.open(demoId).head()).toEqual(head); // not seeded twice
  await createDelivery(demo, { ...smallDelivery, by });
  expect(demo.now()).toBe(site.now()); // real time as soon as there is a real delivery
});
