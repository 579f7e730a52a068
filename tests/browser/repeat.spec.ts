import { expect, type Page } from "@playwright/test";
import type { Reply } from "../../server/contract/calls.ts";
import { open, test } from "./the-demo.ts";

type RepeatView = Reply<"repeat">;

test("the delivery leads to how repeatable its photos are, and what is still to photograph", async ({
  page,
  delivery,
}) => {
  await open(page, `/d/${delivery}`);
  await page.getByRole("link", { name: "How repeatable are my photos?" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("How repeatable are my photos?");

  const single = page.getByRole("region", { name: "Leaves in a photo each", exact: false });
  await expect(single).toContainText("Too few repeats to go by yet: 3 photos of W01 A.");

  const beside = page.getByRole("region", { name: "Leaves side by side in one photo", exact: true });
  await expect(beside).toContainText(/Less than ΔE00 \d\.\d is no reliable difference/);
  await expect(
    beside.getByRole("img", { name: /^Photos of one face differ by up to \d\.\d; 2\.0 is agreed$/ }),
  ).toBeVisible();
  await beside.getByText("In figures").click();
  const all = beside.getByRole("row", { name: /^all / });
  await expect(all).toHaveText(/^all\d\.\d\d\d\.\d\d – \d\.\d\d/);

  await expect(page.getByRole("region", { name: "To know more" })).toContainText(
    /three leaves, each three times.* There are 2 repeats so far, 5 are the least\./,
  );
});

const figures = (share: number) => ({
  repeat: 0.3,
  reproduce: 0.7,
  gauge: 0.76,
  part: 2.1,
  total: 2.2,
  gaugePercent: share,
  classes: 3,
});

/** A delivery in which two phones photographed the same leaves, too unevenly for what is agreed. */
const uneven: RepeatView = {
  tolerance: 2,
  ways: [
    {
      way: "by-reference",
      limit: 2.6,
      spreads: [
        {
          parts: "all",
          lab: [0.8, 0.3, 0.6],
          deltaE: 0.93,
          interval: [0.7, 1.5],
          degreesOfFreedom: 12,
          limit: 2.6,
          photos: 18,
          faces: ["W01/A", "W02/A", "W03/A"],
        },
      ],
    },
  ],
  gauges: [
    {
      by: "phone",
      appraisers: ["Brannoch P1", "Tarnside T4"],
      faces: ["W01/A", "W02/A", "W03/A"],
      times: 3,
      limit: 2.1,
      rows: (["L", "a", "b", "colour"] as const).map((axis, i) => ({ axis, ...figures(31 + i) })),
    },
  ],
  phones: ["Brannoch P1", "Tarnside T4"],
  people: [],
  toShoot: [],
};

const answer = async (page: Page, view: RepeatView) =>
  page.route("**/api/v1/deliveries/*/repeat", (route) => route.fulfill({ json: view }));

test("says when photos cannot hold the tolerance, and what phones add", async ({ page, delivery }) => {
  await answer(page, uneven);
  await open(page, `/d/${delivery}/repeat`);
  await expect(page.getByText(/more than the 2\.0 agreed: from photos like these no match can be told/)).toBeVisible();
  const phones = page.getByRole("region", { name: "Phones against each other" }).first();
  await expect(phones).toContainText("Brannoch P1, Tarnside T4: 3 faces, 3 times each.");
  await expect(phones).toContainText("Less than ΔE00 2.1 is no reliable difference between photos by two phones.");
  await expect(phones).toContainText("34 % come from photos and phones");
  await expect(phones.getByRole("row", { name: /^ΔE00 0\.30 0\.70 0\.76 2\.10 34 %$/ })).toBeVisible();
});

test("with nothing photographed twice says so and what to photograph", async ({ page, delivery }) => {
  const toShoot = ["Photograph one face of three leaves, each three times."];
  await answer(page, { ...uneven, ways: [], gauges: [], toShoot });
  await open(page, `/d/${delivery}/repeat`);
  await expect(page.getByText("No face was photographed more than once yet.")).toBeVisible();
  await expect(page.getByRole("region", { name: "To know more" })).toContainText("three leaves");
});

test("the board marks a difference that repeats of one face reach too", async ({ page, request, delivery }) => {
  const response = await request.get(`/api/v1/deliveries/${delivery}/match`);
  const view = (await response.json()) as Reply<"match">;
  const mark = <D extends object>(difference: D) => ({ ...difference, withinRepeats: true });
  const spaces = view.spaces.map((one) => ({
    ...one,
    worst: one.worst && mark(one.worst),
    differences: one.differences.map(mark),
  }));
  await page.route("**/api/v1/deliveries/*/match", (route) => route.fulfill({ json: { ...view, spaces } }));
  await open(page, `/d/${delivery}/match`);
  await expect(
    page.getByText(/visible side by side: (yes|no|cannot tell), no reliable difference\./).first(),
  ).toBeVisible();
  await page
    .getByText(/as a table$/)
    .first()
    .click();
  await expect(page.getByRole("cell", { name: /no reliable difference/ }).first()).toBeVisible();
});
